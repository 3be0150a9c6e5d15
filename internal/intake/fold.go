package intake

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// plainLetters are letters that are not a plain one with a mark on it, and
// how they are written where they are not on the keyboard.
var plainLetters = map[rune]string{
	'ł': "l", 'đ': "d", 'ð': "d", 'ø': "o", 'ħ': "h", 'ŧ': "t", 'ı': "i", 'ß': "ss", 'æ': "ae", 'œ': "oe", 'þ': "th", 'ŋ': "n", 'ĸ': "k",
}

// Fold makes two ways of writing the same word the same: case and accents do
// not count, and letters of other alphabets of the Latin script are as they
// are typed without them.
func Fold(s string) string {
	if plainASCII(s) {
		return strings.ToLower(s)
	}
	var b strings.Builder
	for _, c := range norm.NFKD.String(strings.ToLower(s)) {
		switch plain, known := plainLetters[c]; {
		case unicode.Is(unicode.Mn, c):
		case known:
			b.WriteString(plain)
		default:
			b.WriteRune(c)
		}
	}
	return b.String()
}

func plainASCII(s string) bool {
	for i := range len(s) {
		if s[i] >= 0x80 {
			return false
		}
	}
	return true
}

// Matches says whether every word asked for is in one of the texts, accents
// and case aside.
func Matches(query string, texts ...string) bool {
	words := strings.Fields(Fold(query))
	if len(words) == 0 {
		return true
	}
	all := Fold(strings.Join(texts, " "))
	for _, w := range words {
		if !strings.Contains(all, w) {
			return false
		}
	}
	return true
}

// fold makes two ways of writing a name the same: besides what Fold does,
// hyphens, full stops and apostrophes do not count.
func fold(s string) string {
	var b strings.Builder
	for _, c := range Fold(s) {
		switch {
		case c == '’' || c == '\'' || c == '-' || c == '.':
		case c == ' ' && strings.HasSuffix(b.String(), " "):
		default:
			b.WriteRune(c)
		}
	}
	return strings.TrimSpace(b.String())
}

// indexFold is where a word stands in a text, in capitals or not; -1 where it
// does not. Letters that are longer in capitals do not shift it.
func indexFold(text, word string) int {
	for i := 0; i+len(word) <= len(text); i++ {
		if strings.EqualFold(text[i:i+len(word)], word) {
			return i
		}
	}
	return -1
}
