// Package figures draws one result: the wall in cross-section, the skin under a pad, the time course.
package figures
