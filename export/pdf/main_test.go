package pdf

import (
	"testing"

	"loamline.example/trace/tracetest/study"
)

func TestMain(m *testing.M) { study.Main(m) }
