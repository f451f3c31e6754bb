// Package catalog holds what the shop knows as data: zones, parts, kits, jobs,
// checks, service levels, work-sheet lines, instruments, symptoms, causes and
// data sheets. The shipped data is embedded TOML, read strictly: an unknown key
// is refused with its file and line. A shop lays its own files over it, entry
// by entry and field by field, by id.
//
// Glossary
//
//	check      one thing to look at or measure, with its way, words and limit
//	position   one check at one leg and stage: a line of the checklist
//	base list  the checks that a service level always asks for
//	opened     a check that a symptom, a finding or the hours ask for besides
//	door       the service level at which a part is next seen
//	layout     what the data sheet says is inside: spring, damper, crown, which way up
//	condition  one term of the small language of opened_by and findings
//	cause      findings that together explain a fault, and what settles it
//	hole       something the catalog lacks or contradicts, found by Validate
package catalog
