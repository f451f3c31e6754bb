// Package tongue holds the texts of the program in other languages than
// English. English is written in the code; a file texts/PLACE.CODE.json gives
// the words of one place in the language CODE, English to translation.
//
// It does not know the window's toolkit, so that reports speak the same
// language as the window; the window hands the same files to the toolkit.
//
// Glossary
//
//   - language: a code of ISO 639-1, "en" or "de".
//   - table: English to translation.
package tongue
