package rows

import "strings"

// Says implements widgets.Saying: the texts of the line's cells.
func (p *Press) Says() string {
	var texts []string
	for _, c := range p.cells {
		if c.Text != "" {
			texts = append(texts, c.Text)
		}
	}
	return strings.Join(texts, ", ")
}
