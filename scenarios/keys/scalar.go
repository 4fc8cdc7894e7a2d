package keys

import (
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// Scalar reads a number, a word or a switch, and holds it against its range.
func (r *Report) Scalar(n *yaml.Node, v reflect.Value, k *Key, path string) bool {
	if !r.plain(n, path) {
		return false
	}
	var wrong, right string
	switch v.Kind() {
	case reflect.Float64:
		wrong, right = readNumber(n, v, k)
	case reflect.Bool:
		if n.Tag == "!!bool" {
			v.SetBool(strings.EqualFold(n.Value, "true"))
		} else {
			wrong, right = What(n)+" where yes or no is needed", "write true or false"
		}
	default:
		wrong, right = readText(n, v, k)
	}
	if wrong != "" {
		r.Add(path, r.Place(n), wrong, right)
	}
	return wrong == ""
}

// decimal leaves out what programs read in different ways: 010 (octal or ten),
// 0x1F, 1_000, 1:30.
var decimal = regexp.MustCompile(`^[-+]?((0|[1-9][0-9]*)(\.[0-9]*)?|\.[0-9]+)([eE][-+]?[0-9]+)?$`)

func readNumber(n *yaml.Node, v reflect.Value, k *Key) (wrong, right string) {
	if n.Tag != "!!float" && n.Tag != "!!int" {
		switch {
		case n.Tag == "!!str" && decimal.MatchString(n.Value) && n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) == 0:
			return Short(n.Value) + " is too large a number", k.wants()
		case n.Tag == "!!str" && decimal.MatchString(n.Value):
			return What(n) + " where a number is needed", "write it without quotes"
		case n.Tag == "!!str" && decimal.MatchString(strings.Replace(n.Value, ",", ".", 1)):
			return What(n) + " where a number is needed", "use a decimal point"
		case n.Tag == "!!str" && decimal.MatchString(firstWord(n.Value)):
			return What(n) + " where a number is needed", "write the number alone; its unit is in the name of the key"
		}
		return What(n) + " where a number is needed", k.wants()
	}
	x, err := strconv.ParseFloat(n.Value, 64)
	switch {
	case strings.ContainsAny(n.Value, "nN"): // YAML writes .nan and .inf
		return Short(n.Value) + " is not a finite number", k.wants()
	case err != nil || !decimal.MatchString(n.Value):
		return Short(n.Value) + " is not a plain decimal number", k.wants()
	case !k.admits(x) && x == 0 && k.Zero != "":
		return Short(n.Value) + " is out of range", k.wants() + "; " + k.Zero
	case !k.admits(x):
		return Short(n.Value) + " is out of range", k.wants()
	}
	v.SetFloat(x)
	return "", ""
}

func firstWord(s string) string {
	s, _, _ = strings.Cut(strings.TrimSpace(s), " ")
	return s
}

func readText(n *yaml.Node, v reflect.Value, k *Key) (wrong, right string) {
	s := n.Value
	switch {
	case n.Kind != yaml.ScalarNode:
		return What(n) + " where text is needed", "write a word, or a few in quotes"
	case n.Tag != "!!str" && len(k.Choices) > 0:
		return What(n) + " where text is needed", choose(k)
	case n.Tag != "!!str":
		return What(n) + " where text is needed", "put it in quotes"
	case len(k.Choices) > 0 && !slices.Contains(k.Choices, s):
		right = choose(k)
		if guess := k.near(s); guess != "" {
			right = "did you mean " + guess + "? " + right
		}
		return Quote(s) + " is not known", right
	case strings.TrimSpace(s) == "":
		return "empty text", "write a few words"
	case strings.ContainsAny(s, "\n\r\u0085\u2028\u2029"):
		return "more than one line", "write it on one line"
	case strings.ContainsFunc(s, hidden) || !utf8.ValidString(s):
		return Quote(s) + " has a character that cannot be printed", "leave it out"
	case utf8.RuneCountInString(s) > k.maxLength && k.maxLength > 0:
		return strconv.Itoa(utf8.RuneCountInString(s)) + " characters", "at most " + strconv.Itoa(k.maxLength)
	case k.pattern != nil && !k.pattern.MatchString(s):
		return Quote(s) + " cannot be a name", "use letters, digits, dot, hyphen and underscore, a letter or digit first"
	}
	v.SetString(s)
	return "", ""
}

// hidden reports whether a character is one that a terminal or a figure would obey or choke
// on: a control, one that turns the direction of what follows, or no character at all.
func hidden(c rune) bool {
	return unicode.IsControl(c) || '\u202a' <= c && c <= '\u202e' || '\u2066' <= c && c <= '\u2069' || unicode.Is(unicode.Noncharacter_Code_Point, c)
}

// choose lists what can be chosen, or says where the list is if it is long.
func choose(k *Key) string {
	if len(k.Choices) > 20 {
		return "`muralheat tissues` lists them"
	}
	return k.wants()
}

// What names a value as a person would.
func What(n *yaml.Node) string {
	switch {
	case n.Kind == yaml.MappingNode:
		return "a mapping"
	case n.Kind == yaml.SequenceNode:
		return "a list"
	case n.Tag == "!!null":
		return "no value"
	case n.Tag == "!!int" || n.Tag == "!!float":
		return "the number " + Short(n.Value)
	case n.Tag == "!!bool":
		return n.Value
	case n.Tag == "!!timestamp":
		return "the date " + Short(n.Value)
	}
	return "the text " + Quote(n.Value)
}

// Short cuts what a person wrote to a length and to characters fit for a line.
func Short(s string) string {
	q := Quote(s)
	return q[1 : len(q)-1]
}

// Quote puts a text in quotation marks, cut to 40 characters.
func Quote(s string) string {
	if r := []rune(s); len(r) > 40 {
		s = string(r[:37]) + "..."
	}
	return strconv.Quote(s)
}

// Beside returns the path of a file named in another file.
func Beside(file, name string) string {
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(filepath.Dir(file), filepath.FromSlash(strings.TrimSpace(name)))
}
