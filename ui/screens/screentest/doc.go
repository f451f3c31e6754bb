// Package screentest gives the tests of the screens a shop without disk and
// without display: a library in memory, the shipped catalog, a fixed clock,
// counting ids, drawn photos, and a status line that remembers what it was
// told.
//
// Glossary
//
//   - Library: inspect.Library in memory, with the refusals that a screen meets: not
//     found, invalid readings, locked visits. It is no second store.
//   - Recorder: what a screen said and where it went.
//   - Fresh, Visit, Decided: visits of a fork that was here twice before, with
//     nothing, some, or all of its checks answered.
//
// Work started with run.Go is beside the test: call env.Run.Wait() before
// looking at what it did. Hold and Release of the library keep it waiting.
package screentest
