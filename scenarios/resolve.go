package scenarios

import (
	"maps"
	"math"
	"reflect"
	"slices"
	"strings"

	"muralheat/scenarios/keys"
	"muralheat/scenarios/source"
	"muralheat/thermal/tissue"
)

// resolve puts in what is set in place of what the file says, fills in everything that
// was left out and checks keys against each other. It returns the source of every value
// that was not given.
func resolve(f *keys.File, r *keys.Report, sets []Set, shelf *source.Shelf) map[string]string {
	inLayers := func(s Set) bool { return strings.HasPrefix(s.Key, wallKeys) }
	for _, s := range sets {
		if !inLayers(s) {
			put(r, f, s)
		}
	}
	if len(sets) > 0 {
		complete(r, reflect.ValueOf(f), "")
	}
	sources := map[string]string{}
	if !sceneFits(f, r) {
		return sources
	}
	earlier, also := before(f, r, sets, shelf, sources)
	defer func() {
		for _, p := range also { // of keys that all share: mostly found once more
			if !slices.Contains(r.Problems, p) {
				r.Problems = append(r.Problems, p)
			}
		}
	}()
	if !fromSheet(f, r, sets, shelf, sources) {
		return sources
	}
	alternatives(f, r)
	made(f)
	if f.Wall.Site != nil && len(f.Wall.Layers) == 0 {
		layers, of := siteLayers(*f.Wall.Site, keys.On(f.Wall.Fibrosis))
		f.Wall.Layers = layers
		maps.Copy(sources, of)
	}
	for _, s := range sets { // those of a site are there now
		if inLayers(s) {
			put(r, f, s)
			delete(sources, s.Key)
		}
	}
	cutOpen(f, r)
	if b := f.Wall.Beyond; b.Tissue == nil && b.Material == nil && b.Medium == nil && b.HeatTransferWM2K == nil && !r.Spoilt("wall.beyond") {
		name, source := tissue.BeyondTissue, tissue.BeyondThickness.Source
		if sceneOf(f).bodyWall {
			name, source = "muscle", "assumption: muscle under skin and fat"
		}
		b.Tissue, sources["wall.beyond.tissue"] = &name, source
	}
	if prepare := sceneOf(f).prepare; prepare != nil {
		prepare(f, r, sources)
	}
	for _, rule := range rulesFor(f) {
		apply(f, r, rule, sources)
	}
	for _, c := range checksFor(f) {
		c.run(f, r)
	}
	lineBetween(f, sources)
	together(f, r, earlier)
	for _, s := range sets {
		if s.By != "" {
			sources[s.Key] = s.By
		}
	}
	return sources
}

// made puts in the mappings that were left out, so that the rules need not ask.
func made(f *keys.File) {
	v := reflect.ValueOf(f).Elem()
	for _, k := range keys.KeysOf(v.Type()) {
		if p := v.FieldByIndex(k.Index); k.Name != "motion" && k.Name != "repeat" && p.Kind() == reflect.Pointer && p.IsNil() && p.Type().Elem().Kind() == reflect.Struct {
			p.Set(reflect.New(p.Type().Elem()))
		}
	}
	if f.Wall.Beyond == nil {
		f.Wall.Beyond = &keys.Beyond{}
	}
	if f.Wall.Lumen == nil {
		f.Wall.Lumen = &keys.Lumen{}
	}
	if p := f.Current.Pulses; p != nil && p.Between == nil {
		p.Between = &keys.Mode{}
	}
	for _, m := range modes(f) {
		if m.Limits == nil {
			m.Limits = &keys.Limits{}
		}
	}
}

// lineBetween lets the load line of the pulses hold between them too.
func lineBetween(f *keys.File, sources map[string]string) {
	if f.Current.Pulses == nil || !source.Flows(f.Current.Pulses.Between) {
		return
	}
	b := f.Current.Pulses.Between.Limits
	if b.LoadLine != nil {
		return
	}
	b.LoadLine = f.Current.Limits.LoadLine
	for i := range b.LoadLine {
		path := keys.Item(betweenKeys+".limits.load_line", i, "")
		sources[path+".resistance_ohm"] = "as current.limits.load_line"
		sources[path+".power_W"] = "as current.limits.load_line"
	}
}

// apply brings one rule to bear.
func apply(f *keys.File, r *keys.Report, u rule, sources map[string]string) {
	if r.Spoilt(u.key) {
		return
	}
	for _, k := range u.hangs {
		if r.Spoilt(k) {
			r.Bad[u.key] = true
			return
		}
	}
	if u.when != nil && !u.when(f) {
		if r.Given(u.key) && u.unless != "" {
			r.At(u.key, u.unless, u.right)
		}
		return
	}
	if r.Given(u.key) || sources[u.key] != "" {
		return
	}
	var value any
	source := ""
	if u.fill != nil {
		value, source = u.fill(f)
	}
	if value == nil {
		if u.needed != "" {
			r.At(u.key, "missing", u.needed)
		}
		return
	}
	if x, ok := value.(float64); ok && math.IsNaN(x) {
		r.Bad[u.key] = true // what it follows from is wrong, and said so
		return
	}
	p, ok := keys.Slot(f, u.key)
	if !ok {
		r.Bad[u.key] = true // a list item whose name is wrong, and said so
		return
	}
	v := reflect.New(p.Type().Elem())
	v.Elem().Set(reflect.ValueOf(value))
	p.Set(v)
	sources[u.key] = source
}

// alternatives checks what can be said in more than one way but only once.
func alternatives(f *keys.File, r *keys.Report) {
	oneOf(r, "wall", true, "site", "layers")
	for i, l := range wallLayers(f) {
		oneOf(r, itemPath(r, "wall.layers", i, keys.Word(l.Name)), true, "tissue", "material")
	}
	oneOf(r, "wall.beyond", false, "tissue", "material", "medium")
	oneOf(r, "wall.beyond", false, "tissue", "material", "heat_transfer_W_m2K")
	alone := f.Current == nil || f.Current.Sheet == nil // else the sheet says what is held
	oneOf(r, "current", alone, slices.Concat(source.Held, sceneOf(f).held)...)
	oneOf(r, betweenKeys, alone, source.Held...)
	for _, a := range sceneOf(f).oneOf {
		oneOf(r, a.path, a.needed, a.names...)
	}
	oneOf(r, "wall.cushion", true, "fluid", "material")
	oneOf(r, "wall.liquid", true, "fluid", "material")
	oneOf(r, "damage", false, "kinetics", "A_per_s")
	oneOf(r, "damage", false, "Ea_J_mol", "E_over_R_K")
}

func wallLayers(f *keys.File) []*keys.Layer {
	if f.Wall == nil {
		return nil
	}
	return f.Wall.Layers
}

// itemPath returns the path under which a list item was read: its number if its
// name was taken.
func itemPath(r *keys.Report, path string, i int, name string) string {
	if numbered := keys.Item(path, i, ""); r.Given(numbered) {
		return numbered
	}
	return keys.Item(path, i, name)
}

// oneOf notes a second of several ways to say a thing, or that none was taken.
func oneOf(r *keys.Report, path string, needed bool, names ...string) {
	if r.Bad[path] || !r.Given(path) {
		return
	}
	var given []string
	for _, n := range names {
		if r.Given(keys.Join(path, n)) {
			given = append(given, n)
		}
		needed = needed && !r.Bad[keys.Join(path, n)] // it was misspelt, and said so
	}
	switch {
	case len(given) > 1 && !r.Bad[keys.Join(path, given[1])]:
		r.At(keys.Join(path, given[1]), "is given together with "+given[0], "give only one of "+keys.List(names, "and"))
	case len(given) == 0 && needed && len(names) > 2:
		r.At(path, "none of "+keys.List(names, "or"), "give one of them")
	case len(given) == 0 && needed:
		r.At(path, "neither "+names[0]+" nor "+names[1], "give one of them")
	}
}
