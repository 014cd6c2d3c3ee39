module wintertruss

go 1.26

require (
	github.com/expr-lang/expr v1.17.8 // indirect
	github.com/rogpeppe/go-internal v1.16.0 // indirect
	github.com/shopspring/decimal v1.6.0 // indirect
	github.com/yuin/goldmark v1.8.7 // indirect
	gonum.org/v1/gonum v0.17.0 // indirect
	pgregory.net/rapid v1.3.0 // indirect
)
