// Package store keeps a book where it outlives the program: its text and its
// numbered edits.
//
// # Terms
//
// The text is the whole book, the file that people mail and compare. An edit's
// record is what the caller wants to be remembered of it (JSON: who, what, what
// takes it back); the store does not read it. The number of a book counts its
// edits, from 0 when it was first opened here. The log holds one Entry an edit.
// An outside change was made to the text by another program.
//
// # Invariants, for any Store
//
//   - When Commit has returned without error the edit is durable: whatever happens
//     to the program afterwards, Load gives its text or a later one.
//   - The text is always whole: that of one number or of the next, never a mixture.
//   - Numbers go up by one and never back. Of an edit whose Commit did not return
//     it is open whether it was made; the next Load says which.
//   - What another program has written is never overwritten unseen: Commit refuses,
//     and Load takes it in under a number of its own.
//   - A Store may be used by several goroutines.
//
// # How a file is kept, and why so
//
// A book tern.md is one text file, so that no one needs this program to read it.
// Beside it stands the log, .tern.md.edits, one line of JSON an entry, in the order
// of numbers. It opens with an entry of number 0. Each entry has the hash of the text
// as it is after the edit, and that hash is what ties the two files together.
//
// Commit does, in this order:
//
//  1. writes the new text beside the old one as .tern.md.new, with the old one's
//     permissions, and syncs it;
//  2. reads the text on disk and compares its hash with the last entry's: if it
//     differs, another program has been there, and the book is left as it is;
//  3. adds the entry to the log and syncs it;
//  4. renames the new text over the old one, which POSIX promises to be all or nothing;
//  5. syncs the folder, so that the name itself is on the disk.
//
// If the program dies before 3, nothing has happened, or an entry stands half
// written at the end of the log, and opening takes it out. If it dies between 3 and
// 4, the last entry speaks of a text that never came: the text on disk has the hash
// of the entry before. It may as well be that the edit was made and another program
// put the old text back; so the entry stays, no number is used twice, and opening
// adds one that takes it back (Entry.TakesBack). If the program dies after 4, text
// and entry agree and the edit counts. A text with neither hash was changed outside.
//
// The other order, text first, was rejected: a text without its entry looks like an
// outside change, and who changed what is lost. So was one file for both (a
// database): it is faster for many small edits and cannot be read, mailed or
// compared by anything else. Between 2 and 4 pass a few milliseconds in which
// another program's change would be lost; without its help nothing can close that gap.
//
// The log is locked while a book is open, so that two programs do not keep the same
// book. The lock goes with the program, however it ends. The log is found beside
// the file that symbolic links lead to, so that all names of a book share one lock.
// Without its log a book is as good as new: its text whole, its number 0, its past
// forgotten.
//
// # Entry points
//
// OpenFile for a book in a file, NewMemory for one that is not kept. A starter book
// is written to a file by the caller first.
package store
