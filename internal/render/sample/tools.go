package sample

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Tool finds an outside program by which a test reads a file a second time. Where it is
// missing the test is left out, unless SEATWARD_TOOLS=must says that it must be there.
func Tool(tb testing.TB, name string) string {
	tb.Helper()
	path, err := exec.LookPath(name)
	if err == nil {
		return path
	}
	if os.Getenv("SEATWARD_TOOLS") == "must" {
		tb.Fatalf("%s is not installed, and SEATWARD_TOOLS=must wants it", name)
	}
	tb.Skipf("%s is not installed: this second reading is left out; SEATWARD_TOOLS=must makes it a failure", name)
	return ""
}

// Convert has LibreOffice read a file and write it in another format, and returns the
// path of what it wrote. Format is a file ending, or one with a filter: "txt:Text".
func Convert(tb testing.TB, name string, data []byte, format string) string {
	tb.Helper()
	office := Tool(tb, "soffice")
	dir := tb.TempDir()
	in := filepath.Join(dir, name)
	if err := os.WriteFile(in, data, 0o600); err != nil {
		tb.Fatal(err)
	}
	out, err := exec.Command(office, "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless", "--convert-to", format, "--outdir", filepath.Join(dir, "out"), in).CombinedOutput()
	if err != nil {
		tb.Fatalf("soffice: %v\n%s", err, out)
	}
	ending, _, _ := strings.Cut(format, ":")
	path := filepath.Join(dir, "out", strings.TrimSuffix(name, filepath.Ext(name))+"."+ending)
	if _, err := os.Stat(path); err != nil {
		tb.Fatalf("soffice wrote nothing: %s", out)
	}
	return path
}

// Text is what pdftotext reads in a PDF.
func Text(tb testing.TB, pdf string) string {
	tb.Helper()
	out, err := exec.Command(Tool(tb, "pdftotext"), "-layout", pdf, "-").Output()
	if err != nil {
		tb.Fatal(err)
	}
	return string(out)
}
