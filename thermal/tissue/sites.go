package tissue

import "slices"

// Site is a place in the gut: the layers of its wall, lumen side first, distended,
// without injury; human, adult where measured. Layers are shared: read only.
type Site struct {
	Name     string
	Title    string
	Layers   []SiteLayer
	Measured []Value // what was measured of the whole wall, mm
	BodyWall bool    // skin and what is under it, not gut
}

// SiteLayer is one layer of a wall.
type SiteLayer struct {
	Name        string
	Tissue      string // name of a Tissue
	ThicknessMM Value
	Muscle      bool // the layer whose injury is judged
}

// ThicknessMM returns the thickness of the whole wall as the sum of its layers, in
// millimetres.
func (s Site) ThicknessMM() float64 {
	sum := 0.0
	for _, l := range s.Layers {
		sum += l.ThicknessMM.Value
	}
	return sum
}

func mm(value, low, high float64, c Confidence, source string) Value {
	return within(value, low, high, "mm", c, source)
}

const (
	balance    = "working split of the measured whole wall, from memory"
	endoscopic = "Endoscopic ultrasound, 10 patients (study of gastric and rectal wall layers, authors not recorded)"
	rectalUS   = "Endoscopic ultrasound, 8 patients (study of gastric and rectal wall layers, authors not recorded)"
	nylund     = "Nylund and others 2012, Ultraschall Med 33:E225, transabdominal ultrasound, mean +- SD"
	distended  = "Distended colon below 3 mm, caecum thinnest; radiology textbooks"
	arai       = "crypt length by Arai and others 1989, Acta Pathol Jpn 39:725, plus muscularis mucosae from memory"
)

// wall puts the layers of one organ together.
func wall(organ string, mucosa, submucosa, muscularis Value, outerName string, outer Value) []SiteLayer {
	return []SiteLayer{
		{Name: "mucosa", Tissue: organ + "-mucosa", ThicknessMM: mucosa},
		{Name: "submucosa", Tissue: organ + "-submucosa", ThicknessMM: submucosa},
		{Name: "muscularis", Tissue: organ + "-muscularis", ThicknessMM: muscularis, Muscle: true},
		{Name: outerName, Tissue: organ + "-" + outerName, ThicknessMM: outer},
	}
}

var sites = []Site{
	{
		Name: "oesophagus", Title: "oesophagus, middle and lower",
		Layers: wall("oesophagus",
			mm(.5, .3, .6, Medium, "Rabinowitz and others 2020, 20 MHz endoscopic ultrasound, three subjects"),
			mm(.5, .3, .6, Low, balance),
			mm(.8, .6, 1.2, Low, balance),
			"adventitia", exact(.1, "mm", Low, balance)),
		Measured: []Value{
			mm(1.85, 1.6, 2.1, Medium, "Rabinowitz and others 2020, 20 MHz endoscopic ultrasound, ages 17-21, range and its middle"),
			mm(1.72, 1.40, 2.04, Medium, "12 MHz radial endoscopic ultrasound, ages 4-17, mean +- SD (authors not recorded)"),
			exact(2.1, "mm", High, "Fox and others 2003, 20 MHz endoscopic ultrasound, control children"),
			mm(3, 3, 5.5, Medium, "Computed tomography, adults: 3 dilated, 5 contracted (Xia and others 2009, from memory); thicker than by ultrasound, not used for the layers"),
		},
	},
	{
		Name: "stomach-antrum", Title: "stomach, antrum",
		Layers: wall("stomach",
			mm(1.0, .7, 1.4, Low, "share of the measured whole wall: 32 +- 7 % by endoscopic ultrasound"),
			mm(.7, .5, 1.0, Low, balance),
			mm(1.2, .8, 2.0, Low, balance),
			"serosa", exact(.1, "mm", Low, balance)),
		Measured: []Value{
			mm(2.9, 2.1, 3.7, High, nylund+", 122 healthy, fasted"),
			mm(3.5, 2.80, 4.23, High, endoscopic+", stomach, range and its middle"),
		},
	},
	{
		Name: "stomach-body", Title: "stomach, body",
		Layers: wall("stomach",
			mm(1.3, 1.0, 1.6, Medium, endoscopic+": mucosa 1.03-1.64 mm"),
			mm(.8, .5, 1.2, Low, balance),
			mm(.9, .6, 1.5, Low, balance),
			"serosa", exact(.1, "mm", Low, balance)),
		Measured: []Value{
			mm(3.5, 2.80, 4.23, High, endoscopic+", stomach, range and its middle"),
		},
	},
	{
		Name: "duodenum", Title: "duodenum",
		Layers: wall("duodenum",
			mm(.6, .5, .8, Low, balance),
			mm(.4, .2, .7, Low, balance),
			mm(.4, .3, .6, Low, balance),
			"serosa", exact(.05, "mm", Low, balance)),
		Measured: []Value{
			mm(1.6, 1.3, 1.9, Medium, nylund),
		},
	},
	{
		Name: "right-colon", Title: "caecum and right colon",
		Layers: wall("colon",
			mm(.45, .35, .5, Medium, "proximal "+arai),
			mm(.4, .2, .8, Low, balance),
			mm(.35, .2, .6, Low, balance+"; thicker at a taenia"),
			"serosa", exact(.05, "mm", Low, balance)),
		Measured: []Value{
			mm(1.05, .6, 1.5, High, nylund+"; means 0.9-1.2 from jejunum to sigmoid, SD up to 0.3"),
			mm(1.5, .9, 3, Medium, distended),
		},
	},
	{
		Name: "left-colon", Title: "left colon and sigmoid",
		Layers: wall("colon",
			mm(.55, .45, .7, Medium, "distal "+arai),
			mm(.45, .3, .9, Low, balance),
			mm(.6, .4, 1.2, Low, balance),
			"serosa", exact(.05, "mm", Low, balance)),
		Measured: []Value{
			mm(1.05, .6, 1.5, High, nylund+"; means 0.9-1.2 from jejunum to sigmoid, SD up to 0.3"),
			mm(1.5, .9, 3, Medium, distended),
		},
	},
	{
		Name: "rectum", Title: "rectum",
		Layers: wall("colon",
			mm(.85, .66, 1.13, Medium, rectalUS+": mucosa 0.66-1.13 mm"),
			mm(.7, .5, 1.0, Low, balance),
			mm(1.1, .8, 1.5, Low, balance),
			"adventitia", exact(.1, "mm", Low, balance)),
		Measured: []Value{
			mm(2.9, 2.28, 3.55, High, rectalUS+", range and its middle"),
			exact(2.6, "mm", Medium, "7 MHz endorectal ultrasound, 19 controls, median (authors not recorded)"),
		},
	},
}

// bodyWall puts the layers under a pad together; muscle lies beyond.
func bodyWall(name, title string, skin, fat Value) Site {
	return Site{
		Name: name, Title: title, BodyWall: true,
		Layers: []SiteLayer{{Name: "skin", Tissue: "skin-wet", ThicknessMM: skin}, {Name: "fat", Tissue: "fat", ThicknessMM: fat}},
	}
}

const (
	laurent = "Laurent and others 2007, Vaccine 25:6423, ultrasound, adults, from memory"
	lean    = "assumption: a person of normal build, from memory; the range runs from lean to obese"
)

var bodyWalls = []Site{
	bodyWall("thigh", "thigh, front", mm(1.55, 1.1, 2.1, Medium, laurent), mm(10, 4, 30, Low, lean)),
	bodyWall("abdomen", "abdomen, beside the navel", mm(1.9, 1.3, 2.6, Medium, laurent+" (waist)"), mm(20, 5, 50, Low, lean)),
	bodyWall("back", "back, below the shoulder blade", mm(2.5, 1.8, 3.3, Medium, laurent), mm(10, 4, 25, Low, lean)),
}

// Sites returns all sites in stable order, from the mouth downwards, then body walls.
func Sites() []Site { return slices.Concat(sites, bodyWalls) }

// FindSite returns the site of a name.
func FindSite(name string) (Site, bool) {
	for _, s := range Sites() {
		if s.Name == name {
			return s, true
		}
	}
	return Site{}, false
}
