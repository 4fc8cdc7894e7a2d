package scenarios

import (
	"path"
	"strings"
)

// Files of every lecture.
const (
	LecturePage = "lecture.md" // the question for the class, the command, the answer, what the model leaves out
	LecturePlan = "plan.yaml"  // the cases that answer it
)

const lecturesFolder = "examples/lectures"

// Lecture is a ready lecture: a folder with a page, a plan of named cases and the scenario that it varies.
type Lecture struct {
	Name  string // of the folder; they sort in the order of a course
	Files []Example
}

// Lectures returns the ready lectures in the order of a course.
func Lectures() []Lecture {
	folders, err := exampleFiles.ReadDir(lecturesFolder)
	if err != nil {
		panic("scenarios: " + err.Error()) // they are part of the binary
	}
	var lectures []Lecture
	for _, f := range folders {
		l := Lecture{Name: f.Name()}
		folder := path.Join(lecturesFolder, l.Name)
		entries, err := exampleFiles.ReadDir(folder)
		if err != nil {
			panic("scenarios: " + err.Error())
		}
		for _, e := range entries {
			l.Files = append(l.Files, embedded(folder, e.Name()))
		}
		lectures = append(lectures, l)
	}
	return lectures
}

// Short returns its name without the number before it.
func (l Lecture) Short() string {
	_, short, _ := strings.Cut(l.Name, "-")
	return short
}

// File returns the text of one of its files, nil if it has none of that name.
func (l Lecture) File(name string) []byte {
	for _, f := range l.Files {
		if f.Name == name {
			return f.Text
		}
	}
	return nil
}

// Title returns the heading of its page.
func (l Lecture) Title() string {
	line, _, _ := strings.Cut(string(l.File(LecturePage)), "\n")
	return strings.TrimPrefix(line, "# ")
}
