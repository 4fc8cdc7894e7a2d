package scenarios

import (
	"muralheat/scenarios/keys"
	"muralheat/thermal"
	"muralheat/thermal/tissue"
)

// A scene is what the current meets. It has keys of its own and a file of its own, scene_*.go,
// with its rules, checks, remarks and what it makes of the case.
type sceneKind struct {
	name   string
	keys   []sceneKey // that belong to this scene alone
	rules  func(*keys.File) []rule
	checks func(*keys.File) []check
	notes  func(*keys.File) []string
	build  func(*keys.File, *thermal.Case)
}

// sceneKey is a key of one scene; needed says what it must be given for, if it must.
type sceneKey struct{ key, needed string }

// scenes lists them; the first is the default.
func scenes() []sceneKind { return []sceneKind{wallScene(), padScene(), stalkScene()} }

const (
	sceneWall  = "wall"
	scenePad   = "neutral-electrode"
	sceneStalk = "stalk-loop"
)

// scene returns that of a file, which may be asked before defaults are filled in.
func scene(f *keys.File) string {
	if f.Scene == nil {
		return sceneWall
	}
	return *f.Scene
}

// sceneOf returns the scene of a file.
func sceneOf(f *keys.File) sceneKind {
	for _, s := range scenes() {
		if s.name == scene(f) {
			return s
		}
	}
	return wallScene()
}

func inScene(name string) func(*keys.File) bool {
	return func(f *keys.File) bool { return scene(f) == name }
}

// sceneFits notes keys of another scene, and what the scene lacks. Where it is not clear
// which scene is meant, nothing more can be said of the file.
func sceneFits(f *keys.File, r *keys.Report) bool {
	if r.Spoilt("scene") {
		return false
	}
	clear := true
	for _, s := range scenes() {
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
		if scene(f) == scenePad && r.Given(k) && !r.Bad[k] {
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
	switch {
	case site.BodyWall && scene(f) != scenePad:
		return keys.Quote(*f.Wall.Site) + " is a body wall", "use it with scene: " + scenePad
	case !site.BodyWall && scene(f) == scenePad:
		return keys.Quote(*f.Wall.Site) + " is a gut wall", "choose a body wall such as thigh, or give layers"
	}
	return "", ""
}}
