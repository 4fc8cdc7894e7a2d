package scenarios

import (
	"muralheat/scenarios/keys"
	"muralheat/thermal"
	"muralheat/thermal/tissue"
)

// A scene is what the current meets. It has keys of its own and a file of its own, scene_*.go,
// with all in which it differs from the others.
type sceneKind struct {
	name     string
	keys     []sceneKey                                  // that belong to this scene alone
	bodyWall bool                                        // its wall is skin and what lies under it, and gel keeps sparks away
	surface  string                                      // name of the wall's inner surface
	into     bool                                        // the wall goes on into the body, without an outer surface
	oneOf    []alternative                               // what can be said in more than one way
	held     []string                                    // how else than elsewhere a current can be stated
	prepare  func(*keys.File, *keys.Report, sources)     // puts in what decides which rules there are; nil: nothing
	defaults []rule                                      // key, fill and what else it hangs on, where an electrode on the wall has another
	quality  func(name string) (q quality, title string) // preset of the numerics
	rules    func(*keys.File) []rule
	checks   func(*keys.File) []check
	metal    func(*keys.File) metal
	contact  func(*keys.File) float64 // radius of the contact, of a needle's shaft or a loop's wire, mm
	notes    func(*keys.File) []string
	build    func(*keys.File, *thermal.Case)
}

// sceneKey is a key of one scene; needed says what it must be given for, if it must.
type sceneKey struct{ key, needed string }

// metal is what takes heat from the tissue: the key it is described by, heat transfer and temperature.
type metal struct {
	key               string
	transfer, celsius *float64
}

// alternative is a mapping of which only one of several keys may be given, or must be.
type alternative struct {
	path   string
	needed bool
	names  []string
}

// sources has where the value of a key comes from that was not given.
type sources = map[string]string

// scenes lists them; each enters itself.
var scenes []*sceneKind

const (
	sceneWall  = string(thermal.OnWall)
	scenePad   = string(thermal.OnSkin)
	sceneStalk = string(thermal.AroundStalk)
)

// scene returns that of a file, which may be asked before defaults are filled in.
func scene(f *keys.File) string {
	if f.Scene == nil {
		return sceneWall
	}
	return *f.Scene
}

// sceneOf returns the scene of a file; that of the wall where it is misspelt, which has been noted.
func sceneOf(f *keys.File) *sceneKind {
	var wall *sceneKind
	for _, s := range scenes {
		switch s.name {
		case scene(f):
			return s
		case sceneWall:
			wall = s
		}
	}
	return wall
}

// sceneFits notes keys of another scene, and what the scene lacks. Where it is not clear
// which scene is meant, nothing more can be said of the file.
func sceneFits(f *keys.File, r *keys.Report) bool {
	if r.Spoilt("scene") {
		return false
	}
	clear := true
	for _, s := range scenes {
		for _, k := range s.keys {
			switch given := r.Given(k.key); {
			case given && s.name != scene(f) && !r.Bad[k.key]:
				r.At(k.key, "belongs to scene: "+s.name, "leave it out, or write scene: "+s.name)
				clear = false
			case !given && s.name == scene(f) && k.needed != "" && !r.Bad[k.key]:
				r.At(k.key, "missing", k.needed)
				clear = clear && scene(f) == sceneWall
			}
		}
	}
	for _, k := range []string{"wall.cushion", "wall.fibrosis"} {
		if sceneOf(f).bodyWall && r.Given(k) && !r.Bad[k] {
			r.At(k, "belongs to the gut wall", "leave it out")
		}
	}
	return clear
}

// flatOnly refuses a mesh in three dimensions.
func flatOnly(f *keys.File) (string, string) {
	if *f.Numerics.Geometry == "3-D" {
		return "this scene is axisymmetric", "write auto or axisymmetric"
	}
	return "", ""
}

// siteFits holds the site against the scene.
var siteFits = check{[]string{"wall.site", "scene"}, func(f *keys.File) (string, string) {
	if f.Wall.Site == nil {
		return "", ""
	}
	site, _ := tissue.FindSite(*f.Wall.Site)
	switch on := sceneOf(f).bodyWall; {
	case site.BodyWall && !on:
		return keys.Quote(*f.Wall.Site) + " is a body wall", "use it with scene: " + scenePad
	case !site.BodyWall && on:
		return keys.Quote(*f.Wall.Site) + " is a gut wall", "choose a body wall such as thigh, or give layers"
	}
	return "", ""
}}
