// SPDX-License-Identifier: MIT

package main

import (
	"os/exec"
	"strings"
	"testing"

	"github.com/spf13/pflag"
)

// Every command and every flag stands in the manual page.
func TestTheManualHasEveryCommandAndFlag(t *testing.T) {
	status, page, errs := earline("man")
	if status != statusFine || errs != "" {
		t.Fatalf("status %d, said %q", status, errs)
	}
	sections := strings.Split(page, "\n.S")
	for _, c := range commands(rootCommand()) {
		head := `S "earline ` + roff(c.Use) + `"`
		if !c.HasParent() {
			head = "H DESCRIPTION"
		}
		section := ""
		for _, s := range sections {
			if strings.HasPrefix(s, head) {
				section = s
			}
		}
		if section == "" {
			t.Errorf("%s has no section", c.Name())
		}
		c.Flags().VisitAll(func(f *pflag.Flag) {
			_, usage := pflag.UnquoteUsage(f)
			if f.Name != "help" && (!strings.Contains(section, `\fB\-\-`+roff(f.Name)+`\fR`) || !strings.Contains(section, roff(usage))) {
				t.Errorf("%s: --%s is not explained", c.Name(), f.Name)
			}
		})
	}
	if len(sections) < 10 {
		t.Errorf("%d sections: the test looked at nothing", len(sections))
	}
}

// No line of the text is taken for a request, and the formatter has nothing to
// complain of where there is one.
func TestTheManualIsWellFormed(t *testing.T) {
	if got := roffLine(`.earline-rules \ 'x'`); got != `\&.earline\-rules \e 'x'` {
		t.Errorf("%s", got)
	}
	_, page, _ := earline("man")
	for _, line := range strings.Split(page, "\n") {
		if request, _, _ := strings.Cut(line, " "); strings.HasPrefix(line, ".") &&
			!strings.Contains(" .TH .SH .SS .PP .TP .RS .RE .nf .fi .br ", " "+request+" ") {
			t.Errorf("request %s", line)
		}
	}
	groff, err := exec.LookPath("groff")
	if err != nil {
		return // an extra check, where the formatter is installed
	}
	cmd := exec.Command(groff, "-man", "-Tutf8", "-ww", "-Kutf8", "-z")
	cmd.Stdin = strings.NewReader(page)
	if out, err := cmd.CombinedOutput(); err != nil || len(out) > 0 {
		t.Errorf("%v: %s", err, out)
	}
}
