package store

import (
	"bytes"
	"encoding/json"
	"maps"
	"slices"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"
)

// rewriter replaces the names of people by what they are called afterwards.
type rewriter struct {
	forms   []form   // the longest first
	numbers []string // their measures as people write them
	small   bool     // names written small are replaced too

	names, lower words // the forms, and all but the shortest of them written small
}

type form struct{ name, as string }

// add takes a name as written in a list. Its words are looked for where they
// begin large or are all large: written small a name is often another word,
// as in a rose or an amber silk; the full name is looked for in any way.
func (r *rewriter) add(name, as string) {
	name = strings.TrimSpace(name)
	if name == "" {
		return
	}
	// what it becomes must not hold it
	forms := map[string]bool{name: true, strings.ToUpper(name): true}
	if strings.Contains(name, " ") {
		forms[strings.ToLower(name)] = true
	}
	for _, w := range strings.FieldsFunc(name, func(c rune) bool { return !unicode.IsLetter(c) && c != '-' && c != '’' && c != '\'' }) {
		for _, part := range append(strings.Split(w, "-"), w) {
			if first, _ := utf8.DecodeRuneInString(part); unicode.IsUpper(first) && utf8.RuneCountInString(part) > 1 {
				forms[part], forms[strings.ToUpper(part)] = true, true
			}
		}
	}
	if r.small {
		for _, f := range slices.Collect(maps.Keys(forms)) {
			forms[strings.ToLower(f)] = true
		}
	}
	for f := range forms {
		r.forms = append(r.forms, form{f, as})
		r.names.add(f)
		if utf8.RuneCountInString(f) > 2 {
			r.lower.add(strings.ToLower(f))
		}
	}
	sort.Slice(r.forms, func(i, j int) bool {
		a, b := r.forms[i].name, r.forms[j].name
		return len(a) > len(b) || len(a) == len(b) && (a < b || a == b && r.forms[i].as < r.forms[j].as)
	})
}

// clean is a role's name, unless it holds one of the names itself; then the
// code.
func (r *rewriter) clean(as, code string) string {
	if r.text(as) != as {
		return code
	}
	return as
}

// text puts what people are called afterwards in the place of their names, as
// whole words, a genitive s apart; beside a name, a number that is one of
// their measures goes too.
func (r *rewriter) text(s string) string {
	if !r.holds(s) {
		return s
	}
	var b strings.Builder
	found := false
	for i := 0; i < len(s); {
		f, ok := r.at(s, i)
		if !ok {
			_, n := utf8.DecodeRuneInString(s[i:])
			b.WriteString(s[i : i+n])
			i += n
			continue
		}
		found = true
		b.WriteString(f.as)
		i += len(f.name)
	}
	if !found {
		return s
	}
	return r.withoutNumbers(b.String())
}

func (r *rewriter) holds(s string) bool { return r.names.in(s) }

// words are many words looked for at once, by their first two bytes.
type words struct {
	first []bool // of each pair of bytes, whether a word begins so
	by    map[int][]string
	short []string // words of one byte
}

func (w *words) add(word string) {
	if w.first == nil {
		w.first, w.by = make([]bool, 1<<16), map[int][]string{}
	}
	if len(word) < 2 {
		w.short = append(w.short, word)
		return
	}
	k := int(word[0])<<8 | int(word[1])
	w.first[k], w.by[k] = true, append(w.by[k], word)
}

// in says whether a text holds one of the words anywhere.
func (w *words) in(s string) bool {
	if w.first == nil {
		return false
	}
	for i := 0; i+1 < len(s); i++ {
		k := int(s[i])<<8 | int(s[i+1])
		if w.first[k] && slices.ContainsFunc(w.by[k], func(word string) bool { return strings.HasPrefix(s[i:], word) }) {
			return true
		}
	}
	return slices.ContainsFunc(w.short, func(word string) bool { return strings.Contains(s, word) })
}

// at finds the longest form that stands at i as a word of its own.
func (r *rewriter) at(s string, i int) (form, bool) {
	if before, _ := utf8.DecodeLastRuneInString(s[:i]); i > 0 && wordRune(before) {
		return form{}, false
	}
	for _, f := range r.forms {
		if !strings.HasPrefix(s[i:], f.name) {
			continue
		}
		rest := s[i+len(f.name):]
		after, _ := utf8.DecodeRuneInString(rest)
		if rest == "" || !wordRune(after) {
			return f, true
		}
		if next, _ := utf8.DecodeRuneInString(rest[1:]); (after == 's' || after == 'S') && (len(rest) == 1 || !wordRune(next)) {
			return f, true
		}
	}
	return form{}, false
}

func wordRune(c rune) bool { return unicode.IsLetter(c) || unicode.IsDigit(c) }

// files replaces names in the names of files, which people write small and
// run together: "ida-2.csv". A word with a point in it is one.
func (r *rewriter) files(s string) string {
	words := strings.SplitAfter(s, " ")
	for i, w := range words {
		if !strings.ContainsAny(w, "./\\") {
			continue
		}
		for _, f := range r.forms {
			low, name := strings.ToLower(w), strings.ToLower(f.name)
			if len(low) != len(w) || utf8.RuneCountInString(name) < 3 {
				continue // a letter that is longer when small: the exact form is looked for elsewhere
			}
			for at := strings.Index(low, name); at >= 0; at = strings.Index(low, name) {
				w = w[:at] + "erased" + w[at+len(name):]
				low = strings.ToLower(w)
				if strings.Contains("erased", name) {
					break
				}
			}
		}
		words[i] = w
	}
	return strings.Join(words, "")
}

// withoutNumbers blanks numbers that are a measure of theirs.
func (r *rewriter) withoutNumbers(s string) string {
	for _, n := range r.numbers {
		for at := 0; ; {
			i := strings.Index(s[at:], n)
			if i < 0 {
				break
			}
			i += at
			end := i + len(n)
			if !inNumber(s, i-1, -1) && !inNumber(s, end, 1) {
				s = s[:i] + "…" + s[end:]
				at = i + len("…")
			} else {
				at = end
			}
		}
	}
	return s
}

// inNumber says that a number goes on at a place, a point or comma before
// digits counted in.
func inNumber(s string, at, step int) bool {
	digit := func(j int) bool { return j >= 0 && j < len(s) && s[j] >= '0' && s[j] <= '9' }
	return digit(at) || at >= 0 && at < len(s) && (s[at] == '.' || s[at] == ',') && digit(at+step)
}

// alike says that a text holds a name written small or inside a word: not
// touched, to be looked at.
func (r *rewriter) alike(s string) bool {
	return r.lower.in(strings.ToLower(s))
}

// value rewrites a text or, where it is one, each word of a JSON list.
func (r *rewriter) value(s string) string {
	if !r.holds(s) && !strings.Contains(s, `\u`) {
		return s
	}
	var list any
	if strings.HasPrefix(s, "[") && unmarshal(s, &list) == nil {
		return encodeJSON(r.walk(list))
	}
	return r.text(s)
}

func (r *rewriter) walk(v any) any {
	switch v := v.(type) {
	case string:
		return r.text(v)
	case []any:
		for i := range v {
			v[i] = r.walk(v[i])
		}
	case map[string]any:
		for k := range v {
			v[k] = r.walk(v[k])
		}
	}
	return v
}

func encodeJSON(v any) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		panic(err) // it was read from JSON
	}
	return strings.TrimSuffix(b.String(), "\n")
}
