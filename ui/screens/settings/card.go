package settings

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"

	"forkwear/ui/screens/cardprint"
	"forkwear/ui/screens/rows"
	"forkwear/ui/widgets"
)

// buildCard asks what the check line of a printed bench card measures.
func (s *Screen) buildCard() fyne.CanvasObject {
	line := s.buildChoice(choice{key: cardprint.Key, label: lang.L("The printed check line measures"), unit: "mm", hint: "100",
		show: cardprint.Line, read: readLine})
	return container.NewVBox(rows.Gap(), rows.Title(lang.L("Bench card"), false), line,
		rows.Quiet(lang.L("Lay a caliper or a steel rule on the line of 100 mm beside the printed cards. Where it measures otherwise, lengths taken off a photo by a bench card are multiplied by its share of 100 mm, areas by the square of it. A bank card is never corrected.")))
}

func readLine(text string) (string, error) {
	if text == "" {
		return "", nil
	}
	mm, err := widgets.ParseNumber(text)
	if err != nil {
		return "", err
	}
	return cardprint.FromLine(mm)
}
