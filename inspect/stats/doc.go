// Package stats holds the general statistics that wear, life, verdict and
// measure share. It is pure: numbers in, numbers out, no clock, no chance.
//
// A figure that the data cannot give is an error or a nil pointer, never NaN.
//
// Glossary:
//
//	lifetime   hours one unit (or several alike) was watched, and how that ended
//	censored   still good when last looked at: it lives longer than its hours
//	entry      hours already on the unit when watching began (delayed entry)
//	last good  hours at which a unit found failed was still seen good: it
//	           failed somewhere between (interval-censored)
//	B10        hours by which one in ten has failed
//	level      two-sided confidence level, 0.95 for 95 %
//	central p  twice the smaller tail probability, at most 1
//	expected   number of failures the comparison rate would have given
package stats
