// Package page puts the results of a sweep, a comparison or some runs into one HTML file to teach with: whoever opens
// it chooses among what was computed, and sees the wall in cross-section, a gauge of the depth, the time course and
// the reason. The file needs no network and no server.
//
// The element data of the file holds, as base64 of gzip: four bytes with the length of a JSON text, little endian;
// that text (File); 256 colours of three bytes, from the low to the high end of the scale of temperature; then the
// temperatures of each section, row after row from above, a byte each, from the low to the high end of the scale,
// each less the byte above it; behind those of a section, those of the moments of its film.
package page
