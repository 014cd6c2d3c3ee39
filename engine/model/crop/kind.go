package crop

// Kind is a type of tomato, by what the figures were measured on.
type Kind int

const (
	Large   Kind = iota // large round and beefsteak
	Cluster             // medium round, sold on the truss
	Cherry
)

// Kinds are the words for the kinds, in their order.
var Kinds = [...]string{Large: "large", Cluster: "cluster", Cherry: "cherry"}

// KindOf gives the kind that a word stands for.
func KindOf(word string) (Kind, bool) {
	for k, w := range Kinds {
		if w == word {
			return Kind(k), true
		}
	}
	return 0, false
}
