package money

import "errors"

// What the models refuse, in the grower's words.
var (
	ErrAmount       = errors.New("a loan's amount must lie between 0 and 10 million million")
	ErrRate         = errors.New("a yearly rate must lie between 0 % and 1,000 %")
	ErrPayments     = errors.New("a loan has between 1 and 1,200 payments")
	ErrPerYear      = errors.New("payments fall 1, 2, 4 or 12 times a year")
	ErrInterestOnly = errors.New("payments of interest only must be fewer than all payments")
	ErrLevel        = errors.New("the level payment does not cover the interest")

	ErrMoveOrder = errors.New("draws and repayments of an operating line must stand in order of date, none after the day it is paid off")
	ErrMoveSize  = errors.New("more is repaid on the operating line than is owed")

	ErrLife    = errors.New("a life must be longer than nothing")
	ErrNoSales = errors.New("a break-even price needs something to sell")
	ErrMargin  = errors.New("each unit picked brings in no more than it costs: no harvest breaks even")
	ErrUnsold  = errors.New("the share unsold must be at least 0 % and below 100 %")
	ErrDebtDue = errors.New("cover needs debt that falls due")
	ErrCurrent = errors.New("a current ratio needs something that is owed within the year")
	ErrAssets  = errors.New("there must be assets above zero")

	ErrFlows = errors.New("a rate of return needs money paid out and money that comes in")
)
