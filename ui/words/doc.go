// Package words writes numbers, dates, money and the workshop's words as the
// screens and the report show them. It knows no fyne.
package words
