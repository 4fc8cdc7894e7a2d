package report

import (
	"muralheat/output/document"
	"muralheat/thermal"
)

func init() {
	scenes[thermal.OnSkin] = scene{
		guide:   "neutral-electrode",
		shown:   "Cross-section: the highest temperature rise at each point, the line of 6 K, the electrode and its contact, and the layers.",
		inwards: "from the skin inwards", layer: "body", surface: "free skin",
		figures: map[string]string{"skin": "Highest temperature rise of the skin from the middle of the pad outwards, the contact, and the square centimetre that is judged."},
		limits:  func(*thermal.Case) document.List { return padLimits },
	}
}

var padLimits = document.List{
	"Foreseeable misuse: to take the computed temperature rise for that of the test on people or a validated phantom (IEC 60601-2-2), which a model cannot replace; the area of a pad for the area in contact; the mean over 1 cm² for the hottest place.",
	"A body is not a half-space: edges, bones and limbs are not in the model.",
	"Contact is even wherever the pad touches: skin that touches in spots, through hair or dried gel, gets hotter there than computed.",
	"The horny layer is a given impedance whose magnitude steers the current; only its resistance heats.",
	"Not computed: blood flow that rises with temperature, sweat, pressure on the skin.",
}
