package kernel

import (
	"testing"

	"muralheat/thermal/internal/generated"
)

func TestGeneratedIsUpToDate(t *testing.T) { generated.UpToDate(t) }
