// Generates the vector kernels; a module of its own, so that the program does not ask for avo.
module muralheat/thermal/heat/kernel/gen

go 1.26.0

require github.com/mmcloughlin/avo v0.5.0

require (
	golang.org/x/mod v0.27.0 // indirect
	golang.org/x/sync v0.16.0 // indirect
	golang.org/x/tools v0.36.0 // indirect
)
