package tissue

import (
	"math"
	"testing"
)

// Constants that decide a result, held to what is published, not to what is stored.
func TestConstantsAsPublished(t *testing.T) {
	for _, tt := range []struct {
		name       string
		v          Value
		want, most float64 // largest difference
		source     string
	}{
		{"latent heat of water at 100 C", LatentHeat, 2.2565e6, 0.002e6, "steam tables, IAPWS-IF97: h'' - h' at 0.101325 MPa, from memory"},
		{"boiling point of water at one atmosphere", BoilTemperature, 99.97, 0.05, "IAPWS-IF97, from memory"},
		{"onset of sparks, V peak", SparkOnset, 200, 1, "some 200 V peak: common practice and textbooks of electrosurgery, from memory"},
		{"tissue carbonises, C", CarbonTemperature, 350, 150, "dry tissue chars between 200 and 500 C, textbooks of laser-tissue interaction, from memory"},
	} {
		if d := math.Abs(tt.v.Value - tt.want); d > tt.most {
			t.Errorf("%s: %g, published %g (%s)", tt.name, tt.v.Value, tt.want, tt.source)
		}
	}
	if CarbonTemperature.Value != 350 {
		t.Errorf("char from %g C: the guide and the remarks of runs say 350 C", CarbonTemperature.Value)
	}
}
