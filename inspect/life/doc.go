// Package life tells the owner how long parts last: survival of fittings, a
// Weibull life, failure rates against expectation, and the patterns by part
// and data sheet. It is pure: the numbers come in as plain structs.
//
// Results are shaped for JSON; what the data do not give is null and a remark
// says why in words.
//
// Glossary:
//
//	fitting          one physical part from the visit it went in to its end
//	life in service  hours until it failed in use (F) or was taken out for wear
//	                 (W); every other end only says that it lasted so long
//	state on arrival broken when the fork first came: no event of ours
//	expected         failures the part's pooled hazard, all sheets together,
//	                 would have given these hours
//	ratio            observed / expected
//	the rest         the other sheets' fittings of the same part
//	too thin         fewer than 5 events: counts are given, conclusions are not
package life

// ThinEvents is the number of events below which a figure is called too thin.
const ThinEvents = 5
