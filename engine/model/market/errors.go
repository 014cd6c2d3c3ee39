package market

import "errors"

// What the models refuse, in the grower's words.
var (
	ErrStep       = errors.New("a price step must be above zero")
	ErrPrice      = errors.New("a price must not be below zero")
	ErrFee        = errors.New("a fee must be at least 0 % and below 100 % of the price")
	ErrUnsold     = errors.New("the share unsold must be at least 0 % and below 100 %")
	ErrResponse   = errors.New("the response to price must not be above zero: a dearer fruit does not sell more")
	ErrNoResponse = errors.New("without a response to price no price is the best")
	ErrVolume     = errors.New("a volume must not be below zero")
	ErrNoPrice    = errors.New("the reference price must be above zero")
	ErrLoss       = errors.New("the share lost each night must be between 0 % and 100 %")
	ErrNoLimit    = errors.New("a fruit brought home must be worth less than it cost to take")
	ErrDays       = errors.New("each day needs what was picked and what was wanted, none below zero, and an age of at least 0 days")
)
