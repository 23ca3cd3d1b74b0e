package program

import (
	"fmt"
	"io"
	"strings"
	"unicode"
)

// Printable returns a text in which every control character but a new line and a tab, and every one that
// changes the direction of writing or ends a line, is written as its code, such as [U+001B]. What the
// notes and names of a job hold can't then steer a terminal, nor is it markup of a page or a picture.
// In JSON the code is an escape.
func Printable(text []byte, asJSON bool) []byte {
	form := "[%U]"
	if asJSON {
		form = `\u%04x`
	}
	return []byte(coded(string(text), "\n\t", form))
}

// Line returns a text as one line, without new lines and tabs too.
func Line(text string) string { return coded(text, "", "[%U]") }

// Short returns a name as one line of at most so many characters.
func Short(name string, most int) string {
	name = Line(strings.Join(strings.Fields(name), " "))
	if runes := []rune(name); len(runes) > most {
		return string(runes[:most-1]) + "…"
	}
	return name
}

// coded writes the characters that steer, but for some, in a form.
func coded(text, but, form string) string {
	var out strings.Builder
	for _, r := range text {
		if unicode.In(r, unicode.Cc, unicode.Bidi_Control, unicode.Zl, unicode.Zp) && !strings.ContainsRune(but, r) {
			fmt.Fprintf(&out, form, r)
		} else {
			out.WriteRune(r)
		}
	}
	return out.String()
}

// Printer writes to W what [Printable] returns of each text written to it.
type Printer struct {
	W    io.Writer
	JSON bool
}

// Write writes a text of whole characters.
func (p Printer) Write(text []byte) (int, error) {
	if _, err := p.W.Write(Printable(text, p.JSON)); err != nil {
		return 0, err
	}
	return len(text), nil
}
