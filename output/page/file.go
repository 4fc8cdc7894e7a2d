package page

// File is what the page shows; the names are those the script reads.
type File struct {
	Choices  []Choice `json:"choices"`
	Cases    []Case   `json:"cases"`
	Walls    [][]Band `json:"walls"`
	Quantity Quantity `json:"quantity"`
	View     View     `json:"view"`
	Heat     Heat     `json:"heat"`
}

// Choice is a key that varies, or a list of cases.
type Choice struct {
	Title  string   `json:"title"`
	Levels []string `json:"levels"`
	Words  bool     `json:"words"`
}

// Quantity is the number that the page is about.
type Quantity struct {
	Name   string  `json:"name"`
	Unit   string  `json:"unit"`
	Digits int     `json:"digits"` // after the point
	Most   float64 `json:"most"`   // the end of its axes
	Rises  bool    `json:"rises"`  // its axes go up; that of a depth goes down
}

// Band is a range of the quantity: a layer of the wall.
type Band struct {
	Name   string  `json:"name"`
	From   float64 `json:"from"`
	To     float64 `json:"to"`
	Shade  string  `json:"shade"`
	Beyond bool    `json:"beyond"`
}

// View is what all cross-sections show, mm.
type View struct {
	Half  float64 `json:"half"` // to each side of the axis
	Near  float64 `json:"near"` // the same where there is little room: what is injured, and the electrode
	Head  float64 `json:"head"` // above the surface
	Depth float64 `json:"depth"`
}

// Heat is what the colours mean.
type Heat struct {
	Name   string  `json:"name"`
	Low    float64 `json:"low"`
	High   float64 `json:"high"`
	Hotter bool    `json:"hotter"` // something is beyond the high end
}

// Case is one setting and what came out of it. Numbers are those of results.csv or summary.csv.
type Case struct {
	At        []int    `json:"at"` // level of each choice
	Name      string   `json:"name"`
	Set       string   `json:"set"`
	Value     float64  `json:"value"` // of the quantity
	Margin    *float64 `json:"margin,omitempty"`
	EnergyJ   *float64 `json:"energy,omitempty"`
	Verdict   string   `json:"verdict"`
	Word      string   `json:"word"` // the margin in few words
	Delivered string   `json:"delivered"`
	Why       string   `json:"why"`
	Marks     string   `json:"marks"` // what belongs to every number of this case
	Wall      int      `json:"wall"`
	Section   *Section `json:"section,omitempty"`
	Course    *Course  `json:"course,omitempty"`
	Film      *Film    `json:"film,omitempty"`
}

// Section is a cross-section through the deepest injury, mm. Of the temperatures the half right of the axis is kept.
type Section struct {
	X      []float64 `json:"x"`
	Z      []float64 `json:"z"`
	Where  string    `json:"where"`
	Above  []Band    `json:"above,omitempty"` // layers that stand on the wall, at negative depth
	Passed bool      `json:"passed"`
	Outlines
}

// Outlines are what a section shows as SVG paths, over its temperatures.
type Outlines struct {
	Injury     string `json:"injury"`
	Dried      string `json:"dried"`
	Carbonised string `json:"carbonised"`
	Removed    string `json:"removed"`
	Never      string `json:"never"`
	Metal      string `json:"metal"`
	Start      string `json:"start"`
	Contact    string `json:"contact"`
	Polyp      string `json:"polyp"`
	Limit      string `json:"limit"`

	heat []byte
}

// Film is how a section came about: its outlines and temperatures at some moments, and the quantity then.
type Film struct {
	Where   string     `json:"where"`
	TimeS   []float64  `json:"t"`
	Value   []float64  `json:"v"`
	Moments []Outlines `json:"moments"`
	Along   *Along     `json:"along,omitempty"` // of a track
}

// Along is a track in section along it, moment by moment, mm.
type Along struct {
	From    float64      `json:"from"`
	To      float64      `json:"to"`
	Moments []AlongTrack `json:"moments"`
}

// AlongTrack is what such a section shows, as SVG paths.
type AlongTrack struct {
	Injury  string `json:"injury"`
	Removed string `json:"removed"`
	Metal   string `json:"metal"`
}

// Course is the time course: the quantity and the power, sample by sample.
type Course struct {
	TimeS  []float64 `json:"t"`
	Value  []float64 `json:"v"`
	PowerW []float64 `json:"w"`
	OffS   float64   `json:"off"` // the current ended
}
