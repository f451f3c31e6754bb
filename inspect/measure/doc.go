// Package measure holds quantities with units, their uncertainty, and the
// bench sums: the single calculations of the workshop that need no visit.
//
// Nothing here reads a file, a clock or a setting; every function is pure.
// Bad input (NaN, infinite, negative, empty, out of range) gets an error that
// names the value and the way out, never a panic and never a NaN in a result.
//
// Glossary:
//
//	quantity      a number with its unit: Length in mm, Volume in mL ...
//	gauge         pressure above the air around, what a fork pump shows
//	absolute      pressure above nothing, what the gas laws want
//	u             standard uncertainty: one standard deviation
//	half-width    the ±a of an instrument: all values inside equally likely, u = a/√3
//	U             expanded uncertainty: k u
//	dof           degrees of freedom: how well u itself is known, +Inf for certain
//	conformance   the chance that the true value is inside its limits
//	rock          how far the lowers swing, there and back, when pushed at a distance
//	clearance     bore less outside diameter, on the diameter
//	run-out       full swing of a dial gauge while a tube turns; twice the bow
//	recovery      the share of a bath that comes out when it is drained
//	sum           a bench sum: value, u, 95 % limits, formula, inputs, remarks
package measure
