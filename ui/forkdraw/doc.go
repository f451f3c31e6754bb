// Package forkdraw is the fork drawing as a widget: zones that can be
// pressed, walked by keyboard and hovered. The drawing itself is made in
// package draw, which the printed report uses too.
//
// Glossary: see package draw.
package forkdraw
