// Package wear turns readings into wear used, wear used into a trend, and a
// trend into hours left.
//
// It is pure arithmetic: no clock, no files, no randomness that is not seeded.
// Hours are riding hours, wear used is a share of the allowed wear (0 new, 1 at
// the limit), uncertainties are standard uncertainties (one sigma, JCGM 100).
//
// Glossary
//
//	reading       one value of one check on one fitting, with its uncertainty
//	fitting       one physical part in one place, from fitted to taken out; the
//	              fits call it a unit, as the statistics books do
//	group         one check over all fittings of one part kind: the kin from
//	              which a fitting with few readings borrows
//	wear used     share of the allowed wear that is gone, W
//	latent wear   the straight line behind the scattered readings
//	fork's rate   what all fittings of one fork wear faster or slower by, f
//	life T        first hour at which the latent wear reaches 1
//	hours left    T minus the hours now
//	pure REML     restricted maximum likelihood without any prior
//	penalised     the same with the data sheet's expected life as a prior
//	singular      a fit in which a variance went to zero: told, no error
//	set aside     a fitting whose readings cannot be used; the reason is told
//	age unknown   a used fitting whose hours before its first reading nobody
//	              knows: it teaches the slope, not the level
package wear
