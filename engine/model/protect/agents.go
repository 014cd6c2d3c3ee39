package protect

import "wintertruss/engine/fact"

const lenteren = "van Lenteren (ed.) 2003, Quality Control and Production of Biological Control Agents, chapter 11"

var (
	cucumerisNight = fact.New(fact.Fact{Name: "night at which Amblyseius cucumeris lays no more", Value: 12, Unit: "degC", Low: 10, High: 14,
		Source: lenteren, Place: "all in diapause at nights of 12 degC and below; the range is assumed", Known: fact.Read})
	soilMiteNight = fact.New(fact.Fact{Name: "soil at which Stratiolaelaps is hardly active", Value: 15, Unit: "degC", Low: 12, High: 16,
		Source: "supplier sheets, soundhorticulture.com and dragonfli.co.uk; the range is assumed", Place: "use at 15 degC and above", Known: fact.Read})
)

// Agent is a beneficial by its kind.
type Agent int

// agent is what is known of one: its word, the coldest night at which it works, and
// whether hairy stems, as a tomato's, stop it.
type agent struct {
	word  string
	night float64 // degC; [unknown] where nothing is known
	// hairy: mites that run along stems are caught by the sticky hairs of a tomato, and
	// few stay on it (common practice); wasps and gall midges fly.
	hairy bool
}

const unknown = -300 // degC: no night is as cold

var agents = []agent{
	{"encarsia", unknown, false},
	{"eretmocerus", unknown, false},
	{"cucumeris", cucumerisNight.Value, true},
	{"swirskii", unknown, true},
	{"persimilis", unknown, true},
	{"orius", unknown, false},
	{"aphidius", unknown, false},
	{"aphidoletes", unknown, false},
	{"chrysoperla", unknown, false},
	{"hippodamia", unknown, false},
	{"diglyphus", unknown, false},
	{"stratiolaelaps", soilMiteNight.Value, false},
	{"steinernema", unknown, false},
}

// Agents gives the words for the agents known, in their order.
func Agents() []string {
	words := make([]string, len(agents))
	for i, a := range agents {
		words[i] = a.word
	}
	return words
}

// AgentOf gives the agent of a word; no to a word that is none of [Agents].
func AgentOf(word string) (Agent, bool) {
	for i := range agents {
		if agents[i].word == word {
			return Agent(i), true
		}
	}
	return 0, false
}

// LaysAt says whether an agent lays, or works, at nights of so many degC. Where
// nothing is known of it, yes.
func (a Agent) LaysAt(night float64) bool { return night > agents[a].night }

// HoldsOn says whether an agent stays on a crop with or without hairy stems.
func (a Agent) HoldsOn(hairy bool) bool { return !(agents[a].hairy && hairy) }
