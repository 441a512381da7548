// SPDX-License-Identifier: MIT

package portal

import (
	"bufio"
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"io"
	"net"
	"strings"
	"sync"
	"testing"

	"github.com/godbus/dbus/v5"
)

// fakeBus is a session bus with one client and a portal on it, over a pipe: the real
// protocol, without a daemon. answer gets every call of the portal.
type fakeBus struct {
	t      *testing.T
	conn   net.Conn
	runs   bool // a portal runs, which the bus could not start
	absent bool // no portal can be started
	answer func(call *dbus.Message) (reply []any, then []*dbus.Message)

	mu     sync.Mutex
	serial uint32
	calls  []*dbus.Message
	heard  chan string // member of every call
}

// desktop returns a desktop on b.
func (b *fakeBus) desktop(t *testing.T) *Desktop {
	t.Helper()
	ours, theirs := net.Pipe()
	b.t, b.conn, b.heard = t, theirs, make(chan string, 64)
	go b.serve()
	bus, err := dbus.NewConn(ours)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = bus.Close(); _ = theirs.Close() })
	if err := bus.Auth([]dbus.Auth{dbus.AuthAnonymous()}); err != nil {
		t.Fatal(err)
	}
	if err := bus.Hello(); err != nil {
		t.Fatal(err)
	}
	return New(bus)
}

func (b *fakeBus) serve() {
	in := bufio.NewReader(b.conn)
	_, _ = in.ReadByte() // the null byte
	for {
		line, err := in.ReadString('\n')
		if err != nil {
			return
		}
		switch line = strings.TrimSpace(line); {
		case line == "AUTH":
			_, _ = io.WriteString(b.conn, "REJECTED ANONYMOUS\r\n")
		case strings.HasPrefix(line, "AUTH "):
			_, _ = io.WriteString(b.conn, "OK 0123456789abcdef0123456789abcdef\r\n")
		case line == "BEGIN":
			for {
				m, err := dbus.DecodeMessage(in)
				if err != nil {
					return
				}
				b.take(m)
			}
		}
	}
}

func member(m *dbus.Message) string {
	s, _ := m.Headers[dbus.FieldMember].Value().(string)
	return s
}

// take answers a call.
func (b *fakeBus) take(m *dbus.Message) {
	b.mu.Lock()
	b.calls = append(b.calls, m)
	b.mu.Unlock()
	var reply []any
	var then []*dbus.Message
	switch name := member(m); {
	case name == "Hello":
		reply = []any{":1.42"}
	case name == "NameHasOwner":
		reply = []any{b.runs}
	case name == "StartServiceByName" && (b.absent || b.runs):
		b.send(&dbus.Message{Type: dbus.TypeError, Headers: map[dbus.HeaderField]dbus.Variant{
			dbus.FieldErrorName: dbus.MakeVariant("org.freedesktop.DBus.Error.ServiceUnknown")}}, m, "no such service")
		b.heard <- name
		return
	case name == "StartServiceByName":
		reply = []any{uint32(2)}
	case name == "AddMatch", name == "RemoveMatch", name == "Close":
	case b.answer != nil:
		reply, then = b.answer(m)
	}
	if m.Flags&dbus.FlagNoReplyExpected == 0 {
		b.send(&dbus.Message{Type: dbus.TypeMethodReply, Headers: map[dbus.HeaderField]dbus.Variant{}}, m, reply...)
	}
	for _, s := range then {
		b.send(s, nil, s.Body...)
	}
	b.heard <- member(m)
}

// send sends m with that body, as the answer to a call or, for nil, by itself.
func (b *fakeBus) send(m, to *dbus.Message, body ...any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.serial++
	m.Body = body
	m.Headers[dbus.FieldSender] = dbus.MakeVariant("org.freedesktop.DBus")
	if to != nil {
		m.Headers[dbus.FieldReplySerial] = dbus.MakeVariant(to.Serial())
	}
	if len(body) > 0 {
		m.Headers[dbus.FieldSignature] = dbus.MakeVariant(dbus.SignatureOf(body...))
	}
	var out bytes.Buffer
	if err := m.EncodeTo(&out, binary.LittleEndian); err != nil {
		b.t.Error(err)
		return
	}
	binary.LittleEndian.PutUint32(out.Bytes()[8:], b.serial) // which a Message does not let one set
	_, _ = b.conn.Write(out.Bytes())
}

func signal(path dbus.ObjectPath, iface, name string, body ...any) *dbus.Message {
	return &dbus.Message{Type: dbus.TypeSignal, Body: body, Headers: map[dbus.HeaderField]dbus.Variant{
		dbus.FieldPath: dbus.MakeVariant(path), dbus.FieldInterface: dbus.MakeVariant(iface), dbus.FieldMember: dbus.MakeVariant(name)}}
}

// at is where the portal answers the first request of :1.42.
const at = dbus.ObjectPath("/org/freedesktop/portal/desktop/request/1_42/earline1")

func answered(code uint32, uris ...string) func(*dbus.Message) ([]any, []*dbus.Message) {
	return func(*dbus.Message) ([]any, []*dbus.Message) {
		results := map[string]dbus.Variant{"uris": dbus.MakeVariant(uris)}
		return []any{at}, []*dbus.Message{signal(at, request, "Response", code, results)}
	}
}

// Open shows the desktop's chooser, for the files that can be opened, where the last one
// lay, over our window.
func TestOpenAsksTheDesktop(t *testing.T) {
	b := &fakeBus{answer: answered(0, "file:///home/someone/My%20room.earline")}
	got, err := b.desktop(t).Choose(t.Context(), File{Title: "Open a room", Accept: "Open", Parent: "x11:1a00007",
		Folder: "/home/someone", Kind: "Rooms", Ext: ".earline"})
	if err != nil || got != "/home/someone/My room.earline" {
		t.Fatalf("found %q, %v", got, err)
	}
	call := b.call(t, "OpenFile")
	if call.Body[0] != "x11:1a00007" || call.Body[1] != "Open a room" {
		t.Errorf("parent %q, title %q", call.Body[0], call.Body[1])
	}
	options := call.Body[2].(map[string]dbus.Variant)
	// Names and types are those of the portal's manual (FileChooser).
	for name, want := range map[string]string{
		"handle_token":   `"earline1"`,
		"accept_label":   `"Open"`,
		"filters":        `@a(sa(us)) [["Rooms", [[0, "*.earline"]]]]`,
		"current_filter": `@(sa(us)) ["Rooms", [[0, "*.earline"]]]`,
		"modal":          "true",
		"current_folder": `b"/home/someone\x00"`,
	} {
		v := options[name]
		if name == "current_folder" {
			if got := string(v.Value().([]byte)); got != "/home/someone\x00" {
				t.Errorf("%s: found %q", name, got)
			}
			continue
		}
		if got := v.String(); got != want {
			t.Errorf("%s: found %s, want %s", name, got, want)
		}
	}
	if _, ok := options["current_name"]; ok {
		t.Error("a file to open has a name already")
	}
}

func (b *fakeBus) call(t *testing.T, name string) *dbus.Message {
	t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, m := range b.calls {
		if member(m) == name {
			return m
		}
	}
	t.Fatalf("%s was not called", name)
	return nil
}

// Save offers the room's own name. A portal that was started by hand answers too.
func TestSaveOffersTheName(t *testing.T) {
	b := &fakeBus{runs: true, answer: answered(0, "file:///tmp/a.earline")}
	if got, err := b.desktop(t).Choose(t.Context(), File{Save: true, Name: "My room.earline", Ext: ".earline"}); err != nil || got != "/tmp/a.earline" {
		t.Fatalf("found %q, %v", got, err)
	}
	options := b.call(t, "SaveFile").Body[2].(map[string]dbus.Variant)
	if got := options["current_name"].Value(); got != "My room.earline" {
		t.Errorf("found %v", got)
	}
}

// What the user gives up is no failure, after which another chooser would come up.
func TestCancelInTheChooserChoosesNothing(t *testing.T) {
	b := &fakeBus{answer: answered(1)}
	if _, err := b.desktop(t).Choose(t.Context(), File{}); !errors.Is(err, ErrCancelled) {
		t.Errorf("found %v", err)
	}
}

// Where there is no portal, or it fails, the caller learns so and can ask by itself.
func TestAPortalThatFailsIsNotACancel(t *testing.T) {
	other := dbus.ObjectPath("/somewhere/else")
	for name, b := range map[string]*fakeBus{
		"none":            {absent: true},
		"failed":          {answer: answered(2)},
		"no file":         {answer: answered(0)},
		"not a file here": {answer: answered(0, "sftp://host/a.earline")},
		"ended": {answer: func(*dbus.Message) ([]any, []*dbus.Message) {
			return []any{at}, []*dbus.Message{signal("/org/freedesktop/DBus", "org.freedesktop.DBus", "NameOwnerChanged", service, ":1.7", "")}
		}},
		"nonsense": {answer: func(*dbus.Message) ([]any, []*dbus.Message) {
			return []any{at}, []*dbus.Message{signal(at, request, "Response", "yes")}
		}},
		"another handle": {answer: func(*dbus.Message) ([]any, []*dbus.Message) { return []any{other}, nil }},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := b.desktop(t).Choose(t.Context(), File{})
			if err == nil || errors.Is(err, ErrCancelled) {
				t.Errorf("found %q, %v", got, err)
			}
		})
	}
}

// Cancel in our window closes the desktop's chooser.
func TestCancelClosesTheChooser(t *testing.T) {
	b := &fakeBus{answer: func(*dbus.Message) ([]any, []*dbus.Message) { return []any{at}, nil }}
	d := b.desktop(t)
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	done := make(chan error, 1)
	go func() {
		_, err := d.Choose(ctx, File{})
		done <- err
	}()
	for name := range b.heard {
		if name == "OpenFile" {
			cancel()
		}
		if name == "Close" {
			break
		}
	}
	if err := <-done; !errors.Is(err, ErrCancelled) {
		t.Errorf("found %v", err)
	}
	if path, _ := b.call(t, "Close").Headers[dbus.FieldPath].Value().(dbus.ObjectPath); path != at {
		t.Errorf("closed %s", path)
	}
}

// The window follows the desktop's colours and its wish for contrast, also when they
// change.
func TestAppearanceFollowsTheDesktop(t *testing.T) {
	var mu sync.Mutex
	values := map[string]uint32{"color-scheme": 2, "contrast": 0}
	b := &fakeBus{}
	b.answer = func(m *dbus.Message) ([]any, []*dbus.Message) {
		mu.Lock()
		defer mu.Unlock()
		return []any{dbus.MakeVariant(dbus.MakeVariant(values[m.Body[1].(string)]))}, nil
	}
	d := b.desktop(t)
	told := make(chan Appearance)
	go d.Follow(t.Context(), func(a Appearance) { told <- a })
	if a := <-told; a != (Appearance{Scheme: LightScheme}) {
		t.Errorf("found %+v", a)
	}
	mu.Lock()
	values["color-scheme"], values["contrast"] = 1, 1
	mu.Unlock()
	go b.send(signal(object, settings, "SettingChanged"), nil, appearance, "contrast", dbus.MakeVariant(uint32(1)))
	if a := <-told; a != (Appearance{Scheme: DarkScheme, Contrast: true}) {
		t.Errorf("found %+v", a)
	}
}

func TestOnlyFilesOfThisComputerHaveAPath(t *testing.T) {
	for uri, want := range map[string]string{
		"file:///a/b%20c":          "/a/b c",
		"file://localhost/a":       "/a",
		"file:///%C3%A4/%E9%83%A8": "/ä/部",
		"file://host/a":            "",
		"http://host/a":            "",
		"file:a":                   "",
		"":                         "",
		"%zz":                      "",
	} {
		if got, err := path(uri); got != want || (err == nil) != (want != "") {
			t.Errorf("%q: found %q, %v", uri, got, err)
		}
	}
}
