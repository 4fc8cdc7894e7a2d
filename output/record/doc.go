// Package record stores a result and reads it back: its columns, declared once, the tables made of
// them, the arrays, the fields for viewers, the manifest, the numerical uncertainty of three meshes, and
// the folder that holds them. The arrays are result.npz and, of a run that keeps a film, film.npz; RecordName
// and FilmName say what is in them. Its errors name the file.
package record
