package fluid

import "slices"

// Service is what is pumped, as station files, catalogs and flags name it.
type Service string

// The services.
const (
	RawSewage     Service = "raw sewage"
	Sludge        Service = "sludge"
	Effluent      Service = "effluent"
	RawWater      Service = "raw water"
	DrinkingWater Service = "drinking water"
)

// Services lists every service.
func Services() []Service { return []Service{RawSewage, Sludge, Effluent, RawWater, DrinkingWater} }

// ServiceNamed finds the service of a word; false where there is none.
func ServiceNamed(word string) (Service, bool) {
	s := Service(word)
	return s, slices.Contains(Services(), s)
}

// Sewage is true for raw sewage and sludge.
func (s Service) Sewage() bool { return s == RawSewage || s == Sludge }

// Drinking is true for drinking water.
func (s Service) Drinking() bool { return s == DrinkingWater }

// ServiceWords are the services as words.
func ServiceWords(all []Service) []string {
	var out []string
	for _, s := range all {
		out = append(out, string(s))
	}
	return out
}
