package house

import "wintertruss/engine/fact"

// Sizes of the units that published figures come in.
var (
	JoulesInBTU = fact.New(fact.Fact{Name: "joules in a BTU (International Table)", Value: 1055.05585262, Unit: "J/BTU", Low: 1055.05585262, High: 1055.05585262,
		Source: "NIST Special Publication 811 (2008), Guide for the Use of the SI", Place: "Appendix B.8", Known: fact.Exact})
	MetresInFoot = fact.New(fact.Fact{Name: "metres in a foot", Value: 0.3048, Unit: "m/ft", Low: 0.3048, High: 0.3048,
		Source: "NIST Special Publication 811 (2008), Guide for the Use of the SI", Place: "Appendix B.8", Known: fact.Exact})
	FahrenheitInKelvin = fact.New(fact.Fact{Name: "Fahrenheit degrees in a kelvin", Value: 1.8, Unit: "degF_diff/K", Low: 1.8, High: 1.8,
		Source: "NIST Special Publication 811 (2008), Guide for the Use of the SI", Place: "Appendix B.8", Known: fact.Exact})
)

const (
	hoursInDay     = 24
	secondsInHour  = 3600
	joulesInMega   = 1e6
	megajoulesInWh = secondsInHour / joulesInMega
)

// lossFromUS turns BTU/h/ft2/degF into W/m2/K.
func lossFromUS(u float64) float64 {
	foot := MetresInFoot.Value
	return u * JoulesInBTU.Value / secondsInHour / (foot * foot) * FahrenheitInKelvin.Value
}
