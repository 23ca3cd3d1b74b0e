package licences_test

import (
	"os/exec"
	"strings"
	"testing"

	"example.com/wheelrate/examples/internal/licences"
)

func TestLicencesOfAProgram(t *testing.T) {
	goroot, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Skip(err) // no toolchain here
	}
	text, err := licences.Of("example.com/wheelrate/examples/topup", strings.TrimSpace(string(goroot)))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Go: its library", "\nexample.com/wheelrate v0.0.0\n====", "\ngonum.org/v1/gonum v", "Boost-LICENSE\n===="} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the licences lack %q", want)
		}
	}
	if strings.Contains(string(text), "testify") {
		t.Error("the licences have those of tests")
	}
	if _, err := licences.Of("example.com/wheelrate/examples/topup", t.TempDir()); err == nil {
		t.Error("a Go without a licence is accepted")
	}
}
