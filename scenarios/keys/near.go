package keys

import "strings"

// Near returns the candidate a person most likely meant by word, or "": the same
// in other letter case, the same without its unit or what follows a hyphen, or few letters off.
func Near(word string, candidates []string) string {
	if len(word) > 80 {
		return ""
	}
	lower := strings.ToLower(word)
	for _, c := range candidates {
		if l := strings.ToLower(c); l == lower || strings.HasPrefix(l, lower+"_") || strings.HasPrefix(l, lower+"-") {
			return c
		}
	}
	if len(word) == 1 { // any other letter is one off
		return ""
	}
	best, limit := "", max(1, len(word)/3)+1
	for _, c := range candidates {
		if d := distance(lower, strings.ToLower(c)); d < limit {
			best, limit = c, d
		}
	}
	return best
}

// distance is the fewest letters put in, taken out, replaced or swapped with
// their neighbour that turn a into b (optimal string alignment).
func distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	before, last, row := []int(nil), []int(nil), make([]int, len(t)+1)
	for j := range row {
		row[j] = j
	}
	for i := range s {
		before, last, row = last, row, make([]int, len(t)+1)
		row[0] = i + 1
		for j := range t {
			cost := 1
			if s[i] == t[j] {
				cost = 0
			}
			row[j+1] = min(last[j]+cost, last[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && s[i] == t[j-1] && s[i-1] == t[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
	}
	return row[len(t)]
}

// List joins words as in "disc, ball or needle".
func List(words []string, and string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " " + and + " " + words[last]
}
