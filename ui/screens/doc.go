// Package screens names every place of the window and what opens it.
package screens
