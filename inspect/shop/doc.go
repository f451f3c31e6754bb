// Package shop is the use cases of the workshop over the ports of package
// inspect: taking a fork in, answering checks, deciding, fitting parts, giving
// the fork back, and looking at a fork's life and at the shop's patterns. It
// joins the catalog, the trend estimator and the verdict rules; it does no I/O
// of its own, and its clock and identifiers are handed in.
//
// Glossary
//
//	desk   the place where the use cases are asked for
//	case   all that is known of one visit, loaded at once
//	slot   one check at one leg, point and stage (inspect.Slot)
//	kin    what the library held of a check when the case was opened
//	front  the check that a person looks at now; kept so that photos find it
//	doubt  why a photo may not be what it seems
//	job    one line of the decision: what is sold and done in one go
//	bill   the sum of the lines: each kit and each work once
//	holder the fitting on which the trend of a check lies
package shop
