package page

import (
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"muralheat/output/compare"
	"muralheat/output/document"
	"muralheat/output/figures"
	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/thermal"
)

// Page is what becomes one HTML file.
type Page struct {
	File
	Title    string
	Invented bool     // the scenarios say that their data are
	Notes    []string // what holds for all cases
	Live     bool     // its script asks for cases that are not there, of whoever shows it
}

// most is how many cases a page may have; assumption: more than anybody steps through.
const most = 2000

// Of makes the page of the folder of a sweep or a comparison, or of those of some runs.
func Of(dirs []string) (*Page, error) {
	if len(dirs) == 1 {
		switch {
		case study.IsSweep(dirs[0]):
			return ofSweep(dirs[0])
		case compare.Is(dirs[0]):
			return ofComparison(dirs[0])
		}
	}
	var members []compare.Member
	for _, dir := range dirs {
		if study.IsSweep(dir) || compare.Is(dir) {
			return nil, fmt.Errorf("output: %s is a sweep or a comparison, which makes a page by itself", dir)
		}
		m, err := compare.Load(dir, "")
		if err != nil {
			return nil, err
		}
		members = append(members, m)
	}
	title := "Side by side"
	if len(members) == 1 {
		title = members[0].Title
	}
	return ofMembers(title, members, dirs)
}

func ofComparison(dir string) (*Page, error) {
	title, members, err := compare.Open(dir)
	if err != nil {
		return nil, err
	}
	folders, err := compare.Folders(dir)
	if err != nil {
		return nil, err
	}
	return ofMembers(title, members, folders)
}

// ofMembers makes a page of complete results, with the folders they come from.
func ofMembers(title string, members []compare.Member, folders []string) (*Page, error) {
	b := &builder{page: &Page{Title: title}}
	differences := compare.Differences(members)
	all := Choice{Title: "setting", Words: true}
	for n, m := range members {
		manifest, err := record.ReadManifest(folders[n])
		if err != nil {
			return nil, err
		}
		if manifest.Failure != "" {
			return nil, fmt.Errorf("output: %s: the run stopped early: %s", folders[n], manifest.Failure)
		}
		if err := record.LoadFilm(folders[n], m.Result); err != nil {
			return nil, err
		}
		b.page.Invented = b.page.Invented || m.Result.Case.Invented
		set := append(phrase.Set(m.Result.Case), compare.OfWall(differences, n)...)
		name := m.Title
		for _, other := range members[:n] {
			if other.Title == name {
				name += " (" + filepath.Base(folders[n]) + ")"
				break
			}
		}
		all.Levels = append(all.Levels, clean(name))
		b.add(m.Result, m.Result, Case{At: []int{n}, Name: name, Set: strings.Join(set, ", ") + "."}, phrase.Remark(m.Result))
	}
	if b.page.Choices = []Choice{all}; len(members) == 1 {
		b.page.Choices, b.page.Cases[0].At = nil, []int{}
	}
	return b.done()
}

// builder puts cases together.
type builder struct {
	page  *Page
	told  []*thermal.Result // what the numbers are made of: a case with its summary
	kept  []*thermal.Result // complete but for the fields, nil where there is none
	cuts  []*figures.Cut    // of those
	films []*reel           // of those; nil where none was kept
}

// add adds a case: told is what its numbers are made of, kept its complete result or nil.
func (b *builder) add(told, kept *thermal.Result, c Case, why string) {
	s := told.Summary
	c.Name, c.Set, c.Why = clean(c.Name), clean(c.Set), clean(why)
	c.Verdict = clean(phrase.Verdict(told))
	c.Delivered = fmt.Sprintf("%s delivered, %s J.", phrase.Delivered(told), phrase.Short(told.Balance.ElectricJ))
	q := judgedBy(told.Case)
	c.Value, c.EnergyJ = q.of(&s), number(told.Balance.ElectricJ)
	if q.isDepth() {
		c.Margin, c.Word = number(inMM(s.MarginToMuscleM)), phrase.MarginWord(s)
	}
	var cut *figures.Cut
	var film *reel
	if kept != nil {
		whole := *kept
		kept = &whole
		cut, film, c.Course = cutOf(kept), reelOf(kept), courseOf(kept)
		c.Marks = record.Marks(kept)
		kept.Fields, kept.Moments = thermal.Fields{}, nil // megabytes, which the cut needs no more
	}
	c.Marks = record.OwnMarks(c.Marks, record.InventedMark)
	b.told, b.kept, b.cuts, b.films, b.page.Cases = append(b.told, told), append(b.kept, kept), append(b.cuts, cut), append(b.films, film), append(b.page.Cases, c)
}

// done makes what all cases share.
func (b *builder) done() (*Page, error) {
	p := b.page
	p.Title = clean(p.Title)
	if p.Title == "" {
		p.Title = "Untitled"
	}
	if len(p.Cases) == 0 {
		return nil, errors.New("output: no case that can be shown. " + strings.Join(p.Notes, " "))
	}
	p.Choices = append([]Choice{}, p.Choices...) // for the script: none is an empty list
	view, heat := p.View, p.Heat                 // of sections that are there already
	p.View, p.Heat = seen(b.cuts, b.kept)
	q := judgedBy(b.told[0].Case).Quantity
	for n, r := range b.told {
		if judgedBy(r.Case).Name != q.Name {
			return nil, errors.New("output: not all are judged by the " + q.Name + "; make a page of those that are")
		}
		q.Most = math.Max(q.Most, 1.15*p.Cases[n].Value)
		if q.isDepth() {
			q.Most = math.Max(q.Most, 1.12e3*r.Case.WallM())
		}
	}
	if q.isDepth() { // section and gauge have one scale
		q.Most = math.Max(p.View.Depth, q.Most)
		p.View.Depth = q.Most
	}
	q.Most, p.View.Depth = rounded(q.Most), rounded(p.View.Depth)
	p.Quantity = q
	p.Walls = nil
	p.shareWalls(b.told)
	for n, k := range b.cuts {
		if k != nil && (p.Cases[n].Section == nil || view != p.View || heat != p.Heat) {
			p.Cases[n].Section = sectionOf(k, b.kept[n], p.View, p.Heat)
			if film := b.films[n]; film != nil {
				p.Cases[n].Film = film.seen(p.View, p.Heat)
			}
		}
	}
	return p, nil
}

// number is a number for JSON, nil where there is none.
func number(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

func clean(s string) string { return document.Clean(s) }
