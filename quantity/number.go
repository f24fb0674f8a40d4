package quantity

import (
	"math"
	"strconv"
	"strings"
)

// longest is the length of text that can still be a value; longer texts are refused unread.
const longest = 120

// plainRunes maps signs that look alike to the one we read.
var plainRunes = strings.NewReplacer(
	"\u2212", "-", "\u2010", "-", "\u2011", "-", "\uff0d", "-", "\u2013", "-", // minus and hyphens
	"\u00a0", " ", "\u2007", " ", "\u2009", " ", "\u200a", " ", "\u202f", " ", "\u3000", " ", "\t", " ", // spaces
	"\u00b2", "2", "\u00b3", "3", // powers
	"\u2126", "ohm", "\u03a9", "ohm", "\u03bc", "\u00b5", // ohm and micro signs
	"\u00ba", "\u00b0", "\u2103", "\u00b0C", "\u2109", "\u00b0F", // degree signs
	"\u2032", "'", "\u2019", "'", "\u2033", "\"", "\u201d", "\"", // feet and inches
	"\u00b7", ".", "\u22c5", ".", // middle dots inside units
	"\u2044", "/", "\u2215", "/",
	"\u00bd", " 1/2", "\u00bc", " 1/4", "\u00be", " 3/4",
)

// plain replaces look-alike signs and trims the text. A number keeps its place: "2½" becomes "2 1/2".
func plain(s string) string { return strings.TrimSpace(plainRunes.Replace(s)) }

// ParseNumber reads a plain number: digits with a decimal point, a comma between thousands, a sign, an exponent.
func ParseNumber(text string) (float64, error) {
	s := plain(text)
	x, rest, problem := leadingNumber(s)
	if problem == nil && strings.TrimSpace(rest) != "" {
		problem = &Error{Text: text, Problem: "not a plain number"}
	}
	if problem != nil {
		problem.Text = text
		return 0, problem
	}
	return x, nil
}

// leadingNumber reads the number at the front of s and returns what follows it.
func leadingNumber(s string) (float64, string, *Error) {
	i := 0
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	start := i
	for i < len(s) && isDigit(s[i]) {
		i++
	}
	whole := i - start
	i, problem := pastThousands(s, start, i, whole)
	if problem != nil {
		return 0, s, problem
	}
	decimals := 0
	if i < len(s) && s[i] == '.' && i+1 < len(s) && isDigit(s[i+1]) {
		for i++; i < len(s) && isDigit(s[i]); i++ {
			decimals++
		}
	}
	if whole+decimals == 0 {
		return 0, s, &Error{Text: s, Problem: "no number found"}
	}
	i = pastExponent(s, i)
	x, err := strconv.ParseFloat(strings.ReplaceAll(s[:i], ",", ""), 64)
	if err != nil || math.IsInf(x, 0) {
		return 0, s, &Error{Text: s, Problem: "number too large"}
	}
	return x, s[i:], nil
}

// pastThousands steps over ",123" groups after the whole digits that end at i. Any other comma between digits is taken for a decimal
// comma and refused.
func pastThousands(s string, start, i, whole int) (int, *Error) {
	groups := 0
	for i < len(s) && s[i] == ',' && i+1 < len(s) && isDigit(s[i+1]) {
		j := i + 1
		for j < len(s) && isDigit(s[j]) {
			j++
		}
		if j-i-1 != 3 || whole == 0 || whole > 3 || s[start] == '0' {
			hint := "write a decimal point, and a comma only between thousands"
			if groups == 0 {
				hint = "write " + s[:i] + "." + s[i+1:] + ": a decimal point, and a comma only between thousands"
			}
			return i, &Error{Text: s, Problem: "decimal comma", Hint: hint}
		}
		i = j
		groups++
	}
	return i, nil
}

// pastExponent steps over "e3" or "E-4" at i; an e that begins a word stays.
func pastExponent(s string, i int) int {
	if i >= len(s) || s[i] != 'e' && s[i] != 'E' {
		return i
	}
	j := i + 1
	if j < len(s) && (s[j] == '+' || s[j] == '-') {
		j++
	}
	if j >= len(s) || !isDigit(s[j]) {
		return i
	}
	for j < len(s) && isDigit(s[j]) {
		j++
	}
	return j
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }
