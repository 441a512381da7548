// SPDX-License-Identifier: MIT

package assets_test

import (
	"bytes"
	"encoding/json"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"earline/assets"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
)

func schema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(assets.Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	if err := c.AddResource("earline.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("earline.schema.json") // checks it against its meta-schema
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func accepts(t *testing.T, s *jsonschema.Schema, data []byte) error {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatalf("no JSON: %v", err)
	}
	return s.Validate(v)
}

func TestDemosFitSchema(t *testing.T) {
	s := schema(t)
	if err := accepts(t, s, assets.Start()); err != nil {
		t.Error(err)
	}
	demos := assets.Demos()
	if len(demos) < 3 {
		t.Errorf("%d demos", len(demos))
	}
	for _, d := range demos {
		if err := accepts(t, s, d.Data); err != nil {
			t.Errorf("%s: %v", d.Name, err)
		}
		if d.Title == "" || d.Story == "" || strings.Contains(d.Story, "\n") {
			t.Errorf("%s: no title, or no story of one line", d.Name)
		}
		var name struct{ Name string }
		if err := json.Unmarshal(d.Data, &name); err != nil || name.Name != d.Title {
			t.Errorf("%s: titled %q, its file %q", d.Name, d.Title, name.Name)
		}
	}
}

// object is what the comparison needs to know of a schema.
type object struct {
	Type                 string
	Properties           map[string]property
	Required             []string
	AdditionalProperties *bool
	Defs                 map[string]object `json:"$defs"`
	Enum                 []string
}

type property struct {
	Ref   string `json:"$ref"`
	Type  string
	Items *property
	Enum  []string
	Const any
}

// The schema and the Go types name the same fields, of like types, the same of
// them required, and no field beyond.
func TestSchemaMatchesTypes(t *testing.T) {
	var root object
	if err := json.Unmarshal(assets.Schema(), &root); err != nil {
		t.Fatal(err)
	}
	used := map[string]bool{}
	var compare func(path string, typ reflect.Type, s object, extra ...string)
	compare = func(path string, typ reflect.Type, s object, extra ...string) {
		if s.AdditionalProperties == nil || *s.AdditionalProperties {
			t.Errorf("%s: the schema allows unknown fields", path)
		}
		names, required := slices.Clone(extra), slices.Clone(extra)
		for i := range typ.NumField() {
			f := typ.Field(i)
			name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
			if name == "" {
				t.Errorf("%s: Go field %s has no name in the file", path, f.Name)
				continue
			}
			nested := path != "design" && typ == reflect.TypeFor[project.Design]()
			if nested && name == "variants" {
				continue // a design beside the plan has none beside itself
			}
			names = append(names, name)
			if !strings.Contains(options, "omit") || nested && name == "variant" {
				required = append(required, name)
			}
			p, ok := s.Properties[name]
			if !ok {
				continue // reported below
			}
			at := path + "." + name
			typ := f.Type
			if typ.Kind() == reflect.Slice {
				if p.Type != "array" || p.Items == nil {
					t.Errorf("%s: a list in Go, %q in the schema", at, p.Type)
					continue
				}
				typ, p = typ.Elem(), *p.Items
			}
			if typ.Kind() == reflect.Pointer {
				typ = typ.Elem()
			}
			def := strings.TrimPrefix(p.Ref, "#/$defs/")
			used[def] = true
			switch {
			case typ == reflect.TypeFor[unit.Length]():
				if !slices.Contains([]string{"place", "size", "reach"}, def) || !strings.HasSuffix(name, "_m") {
					t.Errorf("%s: a length in Go, %q in the schema", at, def)
				}
			case typ.Kind() == reflect.Struct:
				if sub, ok := root.Defs[def]; !ok {
					t.Errorf("%s: an object in Go, %q in the schema", at, def)
				} else {
					compare(at, typ, sub)
				}
			default:
				got := p.Type
				switch {
				case def == "line" || def == "id" || def == "identity" || p.Enum != nil:
					got = "string"
				}
				want := map[reflect.Kind]string{reflect.String: "string", reflect.Bool: "boolean",
					reflect.Int: "integer", reflect.Float64: "number"}[typ.Kind()]
				if got != want {
					t.Errorf("%s: %s in Go, %q in the schema", at, typ.Kind(), got)
				}
			}
		}
		slices.Sort(names)
		slices.Sort(required)
		if diff := cmp.Diff(names, slices.Sorted(maps.Keys(s.Properties))); diff != "" {
			t.Errorf("%s: fields (-Go +schema):\n%s", path, diff)
		}
		slices.Sort(s.Required)
		if diff := cmp.Diff(required, s.Required); diff != "" && len(required)+len(s.Required) > 0 {
			t.Errorf("%s: required (-Go +schema):\n%s", path, diff)
		}
	}
	compare("design", reflect.TypeFor[project.Design](), root, "format", "version")
	for name := range root.Defs {
		if !used[name] && name != "written" {
			t.Errorf("the schema defines %s and does not use it", name)
		}
	}
}

// What the schema refuses file.Decode refuses, and the other way round for what
// a schema can say.
func TestBothRefuse(t *testing.T) {
	s := schema(t)
	start := string(assets.Start())
	tests := []struct{ name, old, new string }{
		{"unknown field", `"riser_m": 0`, `"riser_m": 0, "risr_m": 0`},
		{"missing field", `"riser_m": 0,`, ``},
		{"wrong type", `"gain": 1`, `"gain": "1"`},
		{"null", `"name": "New room"`, `"name": null`},
		{"fraction of a seat", `"seats": 3`, `"seats": 2.5`},
		{"no seats", `"seats": 3`, `"seats": 0`},
		{"500 seats", `"seats": 3`, `"seats": 500`},
		{"negative size", `"height_m": 2.5`, `"height_m": -2.5`},
		{"zero size", `"width_m": 2.6`, `"width_m": 0`},
		{"length without a unit", `"height_m": 2.5`, `"height_m": "2500"`},
		{"no length", `"height_m": 2.5`, `"height_m": "high"`},
		{"wrong version", `"version": 1`, `"version": 3`},
		{"wrong format", `"format": "earline"`, `"format": "x"`},
		{"unknown unit system", `"units": "metric"`, `"units": "feet"`},
		{"unknown slope", `"slope": "flat"`, `"slope": "up"`},
		{"unknown band", `"band": "high"`, `"band": "treble"`},
		{"unknown mount", `"mount": "floor"`, `"mount": "hook"`},
		{"label of another kind", `"label": "M+030"`, `"label": "Left"`},
		{"aspect", `"aspect": 1.78`, `"aspect": 0.5`},
		{"percentile", `"listener_percentile": 50`, `"listener_percentile": 100`},
		{"share of women", `"women_share": 0.5`, `"women_share": 50`},
		{"recline", `"recline_max_deg": 60`, `"recline_max_deg": 600`},
		{"empty id", `"chair": "recliner"`, `"chair": ""`},
		{"no drivers", `"drivers": [`, `"drivers": [], "x": [`},
	}
	for _, tt := range tests {
		if !strings.Contains(start, tt.old) {
			t.Errorf("%s: the starter file has no %s", tt.name, tt.old)
			continue
		}
		data := []byte(strings.Replace(start, tt.old, tt.new, 1))
		if accepts(t, s, data) == nil {
			t.Errorf("%s: the schema accepts it", tt.name)
		}
		if _, err := file.Decode(data, "x"); err == nil {
			t.Errorf("%s: Decode accepts it", tt.name)
		}
	}
}

// Both take a length as it is written on site.
func TestBothAcceptWrittenLengths(t *testing.T) {
	s := schema(t)
	for _, text := range []string{"2500 mm", "2,5 m", "250cm", `8' 2 1/2"`, "8′ 2½″", "8 ft 2 in", "8' 2", "98.5 IN"} {
		quoted, err := json.Marshal(text)
		if err != nil {
			t.Fatal(err)
		}
		data := []byte(strings.Replace(string(assets.Start()), `"height_m": 2.5`, `"height_m": `+string(quoted), 1))
		if err := accepts(t, s, data); err != nil {
			t.Errorf("%s: %v", text, err)
		}
		if _, err := file.Decode(data, "x"); err != nil {
			t.Errorf("%s: %v", text, err)
		}
	}
}
