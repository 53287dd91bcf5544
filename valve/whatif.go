package valve

import (
	"errors"
	"maps"
	"slices"

	"seatward/basis"
)

// WhatIf is the numbers of the same valve with some of them replaced: what if it were
// built so? Unlike a number at the end of its range, a replaced one draws the defaults
// that follow from it along, such as the volume from the mass. The water pushes on the
// element as before: where the force at full opening was read off a full-open velocity,
// it stays that of the valve as it is, and the velocity no longer counts.
//
// The error joins a *ParamError for each number that the type does not know or that
// cannot be.
func (t *Type) WhatIf(p Params, at map[string]float64) (Params, error) {
	out := make(Params, len(p)+len(at)+1)
	maps.Copy(out, p)
	var faults []error
	for _, key := range slices.Sorted(maps.Keys(at)) {
		spec := t.Param(key)
		if spec == nil {
			faults = append(faults, t.unknown(key, "vary a number that the type has"))
			continue
		}
		v := basis.NewGiven(spec.Title, spec.Kind, at[key], basis.WhatIf)
		if err := spec.check(t.Key, v); err != nil {
			faults = append(faults, err)
			continue
		}
		out[key] = v
	}
	if len(faults) > 0 {
		return nil, errors.Join(faults...)
	}
	if err := t.keepForce(p, at, out); err != nil {
		return nil, err
	}
	_, err := t.Complete(out)
	return out, err
}

// keepForce puts the force efficiency of the valve as it is in the place of the velocity
// from which it was read, which holds for the old weight and springs only.
func (t *Type) keepForce(p Params, at map[string]float64, out Params) error {
	const velocity, efficiency = "full_open_velocity", "opening_efficiency"
	_, varied := at[velocity]
	_, said := p[efficiency]
	v, measured := p[velocity]
	if varied || said || !measured {
		return nil
	}
	spec := t.Param(efficiency)
	if spec == nil {
		return &ParamError{
			Type: t.Key, Key: velocity, Found: "a velocity that was measured with the valve as it is",
			Expected: "computed curves", Mend: "vary a valve whose full-open velocity is not in the catalog",
		}
	}
	full, err := t.Complete(p)
	if err != nil {
		return err
	}
	known := t.reader(full.values())
	m, err := t.assemble(known, reference(known, Setting{}))
	if err != nil {
		return err
	}
	of := func(ms float64) float64 { return m.Efficiency * v.SI * v.SI / (ms * ms) }
	out[efficiency] = basis.NewCatalog(spec.Title, spec.Kind, m.Efficiency, v.Source).WithRange(of(v.High), of(v.Low))
	delete(out, velocity)
	return nil
}
