package unit

import "slices"

// Simplify gives the unit in which a product is shown when nobody says: it
// keeps one symbol a dimension, the first met. The dimension stays the same;
// the factor may change, so values go through Convert. An absolute temperature
// is simple already.
//
// Symbols are met in the order of the text. In order:
//
//  1. Symbols of the same dimension merge into the first: ft2*plant/m2 gives
//     plant, in*ft in2, h*USD/min USD.
//  2. Symbols whose dimensions are powers of a common one (ft, acre, gal)
//     vanish when they cancel as a whole: ft*acre/gal. Else, two of them on
//     opposite sides merge into the one with the greater part when a whole
//     power of it is left: acre*lb/ft2 gives lb, acre2/ft2 acre. What does not
//     come out whole stays: L/m2 is water over an area and not a length, acre*ft
//     keeps its name.
//  3. When all symbols together measure nothing, or just what one of them
//     measures, that is the result: kW*h/kWh gives 1, USD*kW*h/kWh USD.
//  4. kW, W and ppm are taken apart (kWh/h, J/s, mg/L) and steps 1 to 3 tried
//     again; that is kept when fewer symbols are left: kW*d gives kWh,
//     ppm*gal mg.
//  5. Plain symbols go where others with a positive power stay: %*USD gives
//     USD. Otherwise the first stays: %/year, and %*% gives %.
func (s *System) Simplify(u *Unit) *Unit {
	if u.Absolute || u.Beyond() || len(u.atoms) < 2 && !u.IsPlain() {
		return u
	}
	s.mu.RLock()
	simple := s.simplified[u]
	s.mu.RUnlock()
	if simple != nil {
		return simple
	}
	atoms := reduce(u.atoms)
	if apart := reduce(s.takeApart(u.atoms)); len(apart) < len(atoms) {
		atoms = apart
	}
	simple = s.intern(onePlain(atoms))
	if simple.Beyond() { // merging made a power past the bound; as it came is in bounds
		simple = u
	}
	s.mu.Lock()
	s.simplified[u] = simple
	s.mu.Unlock()
	return simple
}

// reduce takes steps 1 to 3 with every symbol that has a dimension. Its result
// is canonical.
func reduce(met []atom) []atom {
	atoms := slices.Clone(met)
	for i := range atoms { // step 1
		for j := range i {
			if atoms[j].n != 0 && !atoms[i].plain() && atoms[j].dim == atoms[i].dim {
				atoms[j].n += atoms[i].n
				atoms[i].n = 0
				break
			}
		}
	}
	atoms = cancelPowers(canonical(atoms))

	// Step 3. What no bound could stop was merged above, so powers are as small
	// as they get; a product still beyond the bound has no dimension to compare.
	_, of, ok := size(atoms)
	if !ok {
		return atoms
	}
	total, _ := of.dim()
	if total == (Dim{}) {
		return slices.DeleteFunc(atoms, func(x atom) bool { return !x.plain() })
	}
	for _, x := range atoms {
		if x.n > 0 && x.dim == total {
			return []atom{{x.symbol, 1}}
		}
	}
	return atoms
}

// cancelPowers takes step 2: symbols whose dimensions are powers of one.
func cancelPowers(atoms []atom) []atom {
	directions, times := make([]Dim, len(atoms)), make([]int, len(atoms))
	sum := map[Dim]int{}
	for i, x := range atoms {
		directions[i], times[i] = x.of.split()
		sum[directions[i]] += times[i] * x.n
	}
	for i := range atoms {
		if !atoms[i].plain() && sum[directions[i]] == 0 {
			atoms[i].n = 0
		}
	}
	for i := range atoms {
		for j := range i {
			a, b := times[j]*atoms[j].n, times[i]*atoms[i].n
			if directions[i] != directions[j] || a*b >= 0 {
				continue // not alike, or on the same side, or gone
			}
			great, small := j, i
			if a*a < b*b {
				great, small = i, j
			}
			if (a+b)%times[great] == 0 {
				atoms[great].n, atoms[small].n = (a+b)/times[great], 0
			}
		}
	}
	return canonical(atoms)
}

// apart says what step 4 writes for a symbol.
var apart = map[string]string{"kW": "kWh/h", "W": "J/s", "ppm": "mg/L"}

func (s *System) takeApart(atoms []atom) []atom {
	var parts []atom
	for _, x := range atoms {
		of := []atom{{x.symbol, 1}}
		if text, ok := apart[x.name]; ok {
			of, _ = s.product(text) // the texts above always read
		}
		parts = join(parts, of, x.n)
	}
	return parts
}

// plain says whether the symbol has no dimension: % and deg.
func (x atom) plain() bool { return x.dim == Dim{} }

// onePlain takes step 5.
func onePlain(atoms []atom) []atom {
	kept := slices.DeleteFunc(slices.Clone(atoms), atom.plain)
	if len(kept) > 0 && kept[0].n > 0 { // canonical: a positive power stands first
		return kept
	}
	for _, x := range atoms {
		if x.plain() && x.n > 0 {
			return canonical(append([]atom{{x.symbol, 1}}, kept...))
		}
	}
	return kept
}
