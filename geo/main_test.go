package geo_test

import (
	"os"
	"testing"

	"loamline.example/trace/tracetest/study"
)

func TestMain(m *testing.M) {
	study.LetGarbagePile()
	os.Exit(m.Run())
}
