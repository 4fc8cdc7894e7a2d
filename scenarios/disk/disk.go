// Package disk makes sure that what was written stays written.
package disk

import "os"

// Sync makes sure that a file is on disk, not in memory only; tests listen to it.
var Sync = (*os.File).Sync
