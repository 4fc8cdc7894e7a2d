// Package batch computes the cases of a sweep and loses none of them.
//
//	plan -> cases missing from the journal -> workers -> journal -> results.csv
//
// A folder holds one sweep, or one slice of one:
//
//	sweep.json                  what is computed: plan, program, inputs, columns, layers
//	plan.yaml, scenario.yaml    copies
//	journal                     a line for each finished case, synced as it is written
//	sessions.json               who computed: command, host, program, times
//	stated.json                 what was stated beforehand, with time and checksum; if a decision was
//	results.csv                 a row for each case, written when all are there
//	results.csv-metadata.json   what its columns are (W3C CSV on the Web)
//
// Whatever ends a sweep - a signal, a full disk, a power cut - the journal keeps what
// was finished, and the same call goes on with the rest. The table depends on the plan and
// the program alone: not on the number of workers, nor on how often it was interrupted,
// nor on how it was cut into slices.
package batch
