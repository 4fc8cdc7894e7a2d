// Package source reads source sheets: what the generator of one person can give, as physics, under names of that
// person's own. It checks what a source gives, in a sheet or a scenario, and makes of it a thermal/drive.
package source
