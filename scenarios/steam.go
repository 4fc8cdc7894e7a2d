package scenarios

import (
	"muralheat/scenarios/keys"
	"muralheat/thermal/tissue"
)

// What becomes of steam.
const (
	steamCondenses = "condenses"
	steamLeaves    = "leaves"
)

// steamRules are those of steam in tissue.
var steamRules = []rule{
	dry("physics.steam", func(f *keys.File) (any, string) {
		if inSeries(f) {
			return steamLeaves, "assumption: the series model is stated without it"
		}
		return steamCondenses, "assumption: steam flows to open surfaces and to cooler tissue, where it condenses"
	}),
	condensing("physics.steam_permeability_m2", of(tissue.SteamPermeability)),
	condensing("physics.steam_wet_share", of(tissue.SteamWetShare)),
	condensing("physics.steam_tear_kPa", of(tissue.SteamTear)),
	condensing("physics.steam_vent_share", of(tissue.SteamVentShare)),
}

func condensing(key string, fill func(*keys.File) (any, string)) rule {
	return rule{key: key, hangs: []string{"physics.boiling", "physics.steam"},
		when:   func(f *keys.File) bool { return boils(f) && keys.Word(f.Physics.Steam) == steamCondenses },
		unless: "belongs to steam that condenses", right: "leave it out, or set physics.steam: condenses", fill: fill}
}
