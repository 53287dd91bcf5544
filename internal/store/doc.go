// Package store keeps station files in one SQLite file: the text as the command line reads
// it, a name, a note and the chosen valve. It looks into no text, and has no clock: the
// caller gives the times.
//
// What it promises, and what holds it:
//
//   - A save that was acknowledged stays. The file is in WAL mode with synchronous=FULL, so a
//     commit returns after the log is on the disk; a program that is killed loses at most the
//     save under way. Every write first makes sure that the file still stands at its path, so
//     that nobody saves into a file that was deleted or put aside.
//   - A revision is never changed or lost. A save adds a row; triggers in the file refuse to
//     change or delete rows of revisions and texts, or rows of studies. Remove only marks.
//   - Nobody overwrites what he has not seen. Save names the revision that it began from; when
//     that is not the newest, a [ConflictError] brings the newest and nothing is written. The
//     look at the newest and the new row are one transaction that holds the write lock from
//     its start, so this is true for several programs on one file as well.
//   - The same content makes no new revision. So a save whose answer was lost on the way may
//     be sent again.
//   - What is read is what was saved. A text stands under its SHA-256, once for all revisions
//     that hold it, and is held against it when read; [ErrDamaged] tells of a disk that does not
//     keep its word.
//   - A file that is not ours stays as it is. Open looks at it through read-only connections
//     first, and goes on only with an empty file or with our application ID and a version that
//     it knows ([ErrNotAStore], [NewerError]). It never opens the file but through SQLite: on
//     Unix, closing any other handle would drop the locks of this process.
//   - A full disk costs the save under way and nothing else ([ErrFull]).
//   - A new version of the file comes about in one transaction for each step, or not at all.
//
// One connection writes and up to four read; readers never wait for the writer. An ID is 80
// bits of [Store.Random] in 16 letters and digits, so that it can stand in an address and
// nobody comes upon another's study by counting.
//
// What it does not promise: it needs a file system of this machine (WAL shares memory), it
// forgets nothing (there is no way to erase a study), and it does not know who saved. While a
// file ending in -wal stands beside the store, it is a part of it (after a kill or on a full
// disk the larger one): to copy a store, use Backup.
package store
