package lesson

import (
	"html"
	"strings"
)

// HTML returns the text of a lesson for a page.
func (c *Content) HTML() string {
	var b strings.Builder
	for _, block := range c.Blocks {
		switch {
		case block.Caution:
			b.WriteString(`<p class="caution"><strong>Caution.</strong> ` + marked(block.Text) + "</p>")
		case block.Formula != nil:
			b.WriteString(`<p class="formula">`)
			for _, line := range block.Formula {
				b.WriteString("<span>" + marked(line) + "</span> ")
			}
			b.WriteString("</p>")
		case block.Rows != nil:
			writeTable(&b, block)
		default:
			b.WriteString("<p>" + marked(block.Text) + "</p>")
		}
	}
	return b.String()
}

func writeTable(b *strings.Builder, block Block) {
	row := func(tag, attribute string, list []string) {
		b.WriteString("<tr>")
		for i, cell := range list {
			tag, attribute := tag, attribute
			if i == 0 && tag == "td" {
				tag, attribute = "th", ` scope="row"`
			}
			if block.Words(i) {
				attribute += ` class="words"`
			}
			if number, negative := strings.CutPrefix(cell, "-"); negative {
				cell = "−" + number
			}
			b.WriteString("<" + tag + attribute + ">" + html.EscapeString(cell) + "</" + tag + ">")
		}
		b.WriteString("</tr>")
	}
	b.WriteString(`<div class="wide" tabindex="0" role="region" aria-label="Table"><table>`)
	if block.Head != nil {
		row("th", ` scope="col"`, block.Head)
	}
	for _, r := range block.Rows {
		row("td", "", r)
	}
	b.WriteString("</table></div>")
}

// elements puts numbers into elements of their own, with a minus sign as wide as a
// digit, and keeps them on one line with their units.
var elements = strings.NewReplacer(
	string(MarkOpen)+"-", `<span class="number">−`, string(MarkOpen), `<span class="number">`,
	string(MarkClose)+" ", "</span>\u00a0", string(MarkClose), "</span>")

// marked escapes a text and marks its numbers.
func marked(text string) string { return elements.Replace(html.EscapeString(text)) }
