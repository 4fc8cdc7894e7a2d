package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"muralheat/scenarios/experiments"
)

// block is a place in a page of the guide that is written by this command.
type block struct{ page, name string }

// compared is where the published experiments stand.
var compared = block{"experiments", "experiments"}

// pages renders every page in the folder dir from what is kept: file names with their texts.
func pages(dir string, kept []result) (map[string]string, error) {
	blocks, err := blocks(dir, kept)
	if err != nil {
		return nil, err
	}
	files, err := filepath.Glob(filepath.Join(dir, "*.md"))
	if err != nil {
		return nil, err
	}
	all := map[string]string{}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		if all[name], err = render(strings.TrimSuffix(filepath.Base(name), ".md"), string(text), blocks, kept); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	for b := range blocks {
		return nil, fmt.Errorf("page %s has no block %s", b.page, b.name)
	}
	return all, nil
}

// blocks renders the tables from what is kept, listings from their files, the experiments from their stored score.
func blocks(dir string, kept []result) (map[block]string, error) {
	all := map[block]string{}
	for _, t := range tables {
		if t.page == "" {
			continue
		}
		text, err := t.render(kept)
		if err != nil {
			return nil, err
		}
		all[t.block] = text
	}
	for _, l := range listings {
		text, err := os.ReadFile(l.file(dir))
		if err != nil {
			return nil, err
		}
		all[l.block] = "```\n" + string(text) + "```\n"
	}
	scored, err := experiments.Stored()
	if err != nil {
		return nil, err
	}
	all[compared] = experiments.Markdown(scored)
	return all, nil
}

var (
	begun  = regexp.MustCompile(`(?s)(<!-- numbers: (\S+) -->\n)(.*?)(<!-- end -->)`)
	marked = regexp.MustCompile(`[-.0-9a-z]*(<!-- = (\S+)/(\S+) -->)`)
)

// render writes the blocks and the marked numbers of a page, and takes the blocks that it found out of all.
func render(page, text string, all map[block]string, kept []result) (string, error) {
	var failed error
	text = begun.ReplaceAllStringFunc(text, func(found string) string {
		m := begun.FindStringSubmatch(found)
		b := block{page, m[2]}
		now, ok := all[b]
		if !ok {
			failed = fmt.Errorf("block %s is not among those of this page, or twice", b.name)
		}
		delete(all, b)
		return m[1] + now + m[4]
	})
	text = marked.ReplaceAllStringFunc(text, func(found string) string {
		m := marked.FindStringSubmatch(found)
		number, err := single(kept, m[2], m[3])
		if err != nil {
			failed = err
		}
		return number + m[1]
	})
	return text, failed
}

// single is the number in a row of a table whose numbers stand in sentences.
func single(kept []result, name, label string) (string, error) {
	for _, t := range tables {
		if t.name != name || t.page != "" {
			continue
		}
		if i := slices.IndexFunc(t.rows, func(r row) bool { return r.label == label }); i >= 0 {
			return t.cell(kept, t.rows[i], t.columns[0])
		}
	}
	return "", fmt.Errorf("no number %s/%s for a sentence", name, label)
}
