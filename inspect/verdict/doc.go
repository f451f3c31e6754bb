// Package verdict decides part by part: replace, reuse or measure again, with
// every rule that fired as a reason in a plain sentence and a technical line.
// It is pure: chances and wear come in as numbers (package wear), words and
// limits from the catalog.
//
// Glossary
//
//	finding   one check of a part with the reading in force
//	door      the service level at which a part is next seen and can be renewed
//	horizon   riding hours until that door is next opened (H)
//	over      wear used of 1 or more
package verdict
