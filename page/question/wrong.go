package question

import (
	"html/template"
	"strings"

	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/page/sheet"
)

// FieldError is something in the address that cannot be understood: the key, what
// is wrong, and the things that may have been meant.
type FieldError struct {
	Key, Value, What, Expected string
	Word                       string // what the form calls the field, where that is not its key
	Near                       []sheet.Link
}

// Called is what the field is called before the user.
func (t FieldError) Called() string {
	if t.Word != "" {
		return t.Word
	}
	return strings.NewReplacer("-", " ", "_", " ").Replace(t.Key)
}

// FieldErrors is what is wrong with an address.
type FieldErrors []FieldError

// At is what is wrong with one key, or nil.
func (t FieldErrors) At(key string) *FieldError {
	for i := range t {
		if t[i].Key == key {
			return &t[i]
		}
	}
	return nil
}

// Mark is what a field has on it: that what it holds was not taken and why not,
// and the help that describes it.
func (t FieldErrors) Mark(key string, help ...string) template.HTMLAttr {
	out := ""
	if t.At(key) != nil {
		out = ` aria-invalid="true"`
		help = append([]string{key + "-wrong"}, help...)
	}
	if len(help) > 0 {
		out += ` aria-describedby="` + template.HTMLEscapeString(strings.Join(help, " ")) + `"`
	}
	return template.HTMLAttr(out)
}

// Beside is what stands next to a field whose words were not taken; what was
// expected is told where all wrong are.
func (t FieldErrors) Beside(key string) template.HTML {
	x := t.At(key)
	if x == nil {
		return ""
	}
	return template.HTML(`<span id="` + template.HTMLEscapeString(key) + `-wrong" class="wrong">` + template.HTMLEscapeString(prose.Upper(x.What)) + `.</span>`)
}

func (t *FieldErrors) add(k *sheet.Site, kind, key, value string, err error) {
	if err == nil {
		return
	}
	f := fault.All(err)[0]
	x := FieldError{Key: key, Value: value, What: f.What, Expected: f.Expected}
	if f.Kind == fault.NotFound && k != nil {
		x.Expected = ""
		x.Near = k.Near(value, kind)
	}
	*t = append(*t, x)
}

// Add notes one more thing that cannot be understood.
func (t *FieldErrors) Add(key, value string, err error) { t.add(nil, "", key, value, err) }

// Look notes a cloth that is not known, with what lies near.
func (t *FieldErrors) Look(k *sheet.Site, key, value string, err error) {
	t.add(k, "cloth", key, value, err)
}
