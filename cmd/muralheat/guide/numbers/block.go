package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"muralheat/scenarios/experiments"
)

// block is a place in a page of the guide that is written by this command.
type block struct{ page, name string }

// find returns where the block stands in the text of its page.
func (b block) find(text string) (from, to int, err error) {
	begin := "<!-- numbers: " + b.name + " -->\n"
	from = strings.Index(text, begin)
	if from < 0 {
		return 0, 0, fmt.Errorf("page %s has no block %s", b.page, b.name)
	}
	from += len(begin)
	to = strings.Index(text[from:], "<!-- end -->")
	if to < 0 {
		return 0, 0, fmt.Errorf("page %s: block %s has no end", b.page, b.name)
	}
	return from, from + to, nil
}

// put writes Markdown into the page in the folder dir.
func (b block) put(dir, markdown string) error {
	name := filepath.Join(dir, b.page+".md")
	text, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	from, to, err := b.find(string(text))
	if err != nil {
		return err
	}
	return os.WriteFile(name, []byte(string(text[:from])+markdown+string(text[to:])), 0o644)
}

// compared is where the published experiments stand.
var compared = block{"experiments", "experiments"}

// blocks renders every block: the tables from what is kept, the experiments from their stored score.
func blocks(kept []result) (map[block]string, error) {
	all := map[block]string{}
	for _, t := range tables {
		text, err := t.render(kept)
		if err != nil {
			return nil, err
		}
		all[t.block] = text
	}
	scored, err := experiments.Stored()
	if err != nil {
		return nil, err
	}
	all[compared] = experiments.Markdown(scored)
	return all, nil
}
