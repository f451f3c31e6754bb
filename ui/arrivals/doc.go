// Package arrivals takes photos in that come without a person: from the watched
// folder while the window is open, and from files that are dropped or chosen
// without a fork. Each is filed by inspect/shop; what nobody can tell waits in
// the tray. It draws nothing; the screens listen to it.
//
// Glossary
//
//   - watched folder: where a phone syncs to, or where a card is plugged in. It
//     is looked at only; nothing in it is moved, changed or deleted.
//   - tray: photos without a fork.
//   - set aside: of no fork; kept, and not shown in the tray.
//   - coming: files of a running import that are not in yet.
package arrivals
