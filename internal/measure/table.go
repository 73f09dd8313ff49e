package measure

// UnitRow is one unit as a handbook prints it: a number in it times Factor,
// after Offset is taken off, is in the unit of its kind.
type UnitRow struct {
	Kind           Kind
	Name           string
	Factor, Offset float64
	In             string   // the kind's own unit
	Words          []string // further spellings read
	USOnly         []string // spellings read by a studio on US units only
}

// Units lists every unit that is read, in the order of the kinds.
func Units() []UnitRow {
	out := make([]UnitRow, 0, len(units))
	for _, u := range units {
		out = append(out, UnitRow{u.kind, u.name, u.factor, u.offset, own(u.kind), split(u.words), split(u.unsure)})
	}
	return out
}

// own is the unit that Parse returns a kind in.
func own(kind Kind) string {
	for _, u := range units {
		if u.kind == kind && u.factor == 1 && u.offset == 0 && u.most == 0 {
			return u.name
		}
	}
	return ""
}
