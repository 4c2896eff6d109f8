package trace

// Utility is a class of the uniform temporary-marking colour code.
type Utility string

// The classes. Colours and letter codes belong to the exporters.
const (
	Electric      Utility = "electric"
	Gas           Utility = "gas"
	Communication Utility = "communication"
	Water         Utility = "water"
	Reclaimed     Utility = "reclaimed"
	Sewer         Utility = "sewer"
	UnknownKind   Utility = "unknown"
)

// Utilities lists every class, in the order of legends.
func Utilities() []Utility {
	return []Utility{Electric, Gas, Communication, Water, Reclaimed, Sewer, UnknownKind}
}
