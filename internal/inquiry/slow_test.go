package inquiry

import (
	"strings"
	"testing"
	"time"
)

// Long texts that hold little sense cost little time.
func TestLongTextsAreQuick(t *testing.T) {
	for _, part := range []string{"1 ft ", "2 pumps ", "> x\n", "a@b.example ", "head 1 m\n", "no rags ", "existing swing ", "1,046 m, ", "(", "2 x y z pump "} {
		begin := time.Now()
		Read(strings.Repeat(part, MostBytes/4/len(part)))
		if d := time.Since(begin); d > 10*time.Second {
			t.Errorf("%q many times takes %v", part, d)
		}
	}
}
