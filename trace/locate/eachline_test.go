package locate

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
)

// Whatever order the lines are done in, the first one's error is returned.
func TestEachLineReturnsTheErrorOfTheLowestLine(t *testing.T) {
	want := errors.New("line 3")
	for range 50 {
		err := eachLine(context.Background(), 40, func(i int) error {
			switch {
			case i == 3:
				return want
			case i > 3:
				return fmt.Errorf("line %d", i)
			}
			return nil
		})
		if !errors.Is(err, want) {
			t.Fatalf("got %v", err)
		}
	}
}

// A server goes on with other jobs after a panic in one line of one of them.
func TestEachLinePanicsWhereItWasCalled(t *testing.T) {
	defer func() {
		err, ok := recover().(error)
		if !ok || !strings.HasPrefix(err.Error(), "runtime error: index out of range") || !strings.Contains(err.Error(), "eachline_test.go") {
			t.Errorf("recovered %v", err)
		}
	}()
	none := make([]int, 0)
	err := eachLine(context.Background(), 8, func(i int) error {
		if i == 5 {
			return fmt.Errorf("%d", none[i-6])
		}
		return nil
	})
	t.Errorf("came back with %v", err)
}

func TestEachLineEndsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := eachLine(ctx, 8, func(int) error { return nil }); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}
