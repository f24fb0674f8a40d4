package place

import "unicode/utf8"

// Fold returns a name as names are compared: lower case, without accents, points and hyphens, "St", "Mt" and "Ft" written out. Two names
// with the same fold are the same name.
func Fold(name string) string {
	return string(fold(make([]byte, 0, len(name)+8), []byte(name)))
}

// fold appends the fold of a name to dst, which must be empty.
func fold(dst, name []byte) []byte {
	word := 0 // where the present word begins
	for i := 0; i < len(name); {
		c := name[i]
		switch {
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
			dst = append(dst, c)
			i++
			continue
		case c >= 'A' && c <= 'Z':
			dst = append(dst, c|0x20)
			i++
			continue
		case c == '.' || c == '\'' || c == '`':
			i++
			continue
		}
		r, size := rune(c), 1
		if c >= utf8.RuneSelf {
			r, size = utf8.DecodeRune(name[i:])
		}
		i += size
		plain, letter := plainLetters[r]
		switch {
		case letter:
			dst = append(dst, plain...)
		case c < utf8.RuneSelf || r == '–' || r == '\u00a0': // a gap
			if len(dst) > word {
				dst = append(writtenOut(dst, word), ' ')
				word = len(dst)
			}
		case r == '’' || r == '‘' || r == 'ʻ' || r == 'ʼ' || r == '´' || r >= 0x300 && r <= 0x36f: // marks and loose accents
		default:
			dst = append(dst, name[i-size:i]...)
		}
	}
	if len(dst) == word && word > 0 {
		return dst[:word-1]
	}
	return writtenOut(dst, word)
}

// writtenOut replaces the last word by what it is short for.
func writtenOut(dst []byte, word int) []byte {
	switch string(dst[word:]) {
	case "st", "ste":
		return append(dst[:word], "saint"...)
	case "mt":
		return append(dst[:word], "mount"...)
	case "ft":
		return append(dst[:word], "fort"...)
	}
	return dst
}
