// Package tokens holds the colours and sizes of the program as plain values,
// so that the window and the printed report share them. It knows no window
// toolkit.
//
// Glossary
//
//   - palette: the colours of one variant (light or dark).
//   - paper: the page; panel: a card on it; line: a hairline round a card.
//   - quiet ink: text of second rank, still readable (contrast 4.5:1).
//   - tint: a state colour laid at 15 % over paper or panel.
package tokens
