package unit

// moneyCodes are the codes of ISO 4217, list one (currencies, funds, precious
// metals) as published on 2026-01-01 by its maintenance agency, SIX Financial
// Information: 178 codes, here without XTS (for testing) and XXX (no currency).
// Read in the iso-codes package 4.15 and the list of 2024-06-25, brought to
// date by the amendments since: XCG for ANG (176), ZWG for ZWL (177), XAD new
// (179), BGN withdrawn when Bulgaria took the euro. Each is a dimension of its
// own: only an exchange rate, which the book states, leads from one to another.
const moneyCodes = `
	AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BHD BIF BMD BND BOB BOV
	BRL BSD BTN BWP BYN BZD CAD CDF CHE CHF CHW CLF CLP CNY COP COU CRC CUP
	CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF
	GTQ GYD HKD HNL HTG HUF IDR ILS INR IQD IRR ISK JMD JOD JPY KES KGS KHR
	KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD LSL LYD MAD MDL MGA MKD MMK MNT
	MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD OMR PAB PEN
	PGK PHP PKR PLN PYG QAR RON RSD RUB RWF SAR SBD SCR SDG SEK SGD SHP SLE
	SOS SRD SSP STN SVC SYP SZL THB TJS TMT TND TOP TRY TTD TWD TZS UAH UGX
	USD USN UYI UYU UYW UZS VED VES VND VUV WST XAD XAF XAG XAU XBA XBB XBC
	XBD XCD XCG XDR XOF XPD XPF XPT XSU XUA YER ZAR ZMW ZWG`
