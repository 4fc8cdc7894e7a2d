package record

// Version is that of the program, for records, reports and the command alike. CHANGELOG.md
// and CITATION.cff carry the same; a test holds them together.
const Version = "0.3.0"
