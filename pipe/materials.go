package pipe

import "sync"

// Elastic is how a wall or lining gives under a fast change of pressure.
type Elastic struct {
	Material             string
	Aliases              []string
	ModulusPa            Span // Young's modulus; short-term for plastics
	Poisson              Span
	Status, Source, Note string
}

var elasticTable = sync.OnceValues(func() ([]Elastic, error) {
	records, err := readData("elastic.csv")
	if err != nil {
		return nil, err
	}
	var out []Elastic
	for _, r := range records {
		names := r.names("material")
		out = append(out, Elastic{
			Material: names[0], Aliases: names[1:],
			ModulusPa: r.span("modulus", 1e9), Poisson: r.span("poisson", 1),
			Status: r.text("status"), Source: r.text("source"), Note: r.fields["note"],
		})
		if r.err != nil {
			return nil, r.err
		}
	}
	return out, nil
})

// ElasticOf returns the elastic data of a pipe material or lining by its name or
// an alias. It knows more materials than have dimension tables. An unknown name
// gives a *LookupError.
func ElasticOf(material string) (Elastic, error) {
	all, err := elasticTable()
	if err != nil {
		return Elastic{}, err
	}
	i, err := named("material", material, len(all), func(i int) []string {
		return append([]string{all[i].Material}, all[i].Aliases...)
	})
	if err != nil {
		return Elastic{}, err
	}
	return all[i], nil
}

// Surface is the inside of a pipe as the flow feels it.
type Surface struct {
	Name           string
	Aliases        []string
	RoughnessM     Span // absolute roughness ε; not Known where the sources give none
	HazenWilliamsC Span // not Known where the sources give none
	Status, Source string
}

var surfaceTable = sync.OnceValues(func() ([]Surface, error) {
	records, err := readData("surfaces.csv")
	if err != nil {
		return nil, err
	}
	var out []Surface
	for _, r := range records {
		names := r.names("name")
		out = append(out, Surface{
			Name: names[0], Aliases: names[1:],
			RoughnessM: r.span("roughness", mmM), HazenWilliamsC: r.span("c", 1),
			Status: r.text("status"), Source: r.text("source"),
		})
		if r.err != nil {
			return nil, r.err
		}
	}
	return out, nil
})

// SurfaceOf returns the surface by its name ("steel, new"), an alias or the name
// of the pipe's material. An unknown name gives a *LookupError that lists them.
func SurfaceOf(name string) (Surface, error) {
	all, err := surfaceTable()
	if err != nil {
		return Surface{}, err
	}
	i, err := named("surface", name, len(all), func(i int) []string {
		return append([]string{all[i].Name}, all[i].Aliases...)
	})
	if err != nil {
		return Surface{}, err
	}
	return all[i], nil
}
