// Package literal prints Go values as composite literals, so that what a loader
// read from the data files can be compiled in and costs nothing at start-up.
// Only tests use it: they write the compiled files, and fail where one is stale.
package literal

import (
	"fmt"
	"path"
	"reflect"
	"strconv"
	"strings"
)

// Printer prints values for one package.
type Printer struct {
	pkg     string // import path of the package that the literals stand in
	names   map[uintptr]string
	imports map[string]bool
	b       strings.Builder
}

// New makes a printer for the package with the import path pkg.
func New(pkg string) *Printer {
	return &Printer{pkg: pkg, names: map[uintptr]string{}, imports: map[string]bool{}}
}

// Name says that a pointer is printed as the address of a variable or element:
// Name(p, "compiledCloths[3]") prints &compiledCloths[3].
func (p *Printer) Name(ptr any, expr string) {
	p.names[reflect.ValueOf(ptr).Pointer()] = expr
}

// Var prints "var name = value". Unexported fields are printed too; a map,
// function or channel that is not nil panics, since it has no static literal.
func (p *Printer) Var(name string, value any) {
	p.b.WriteString("var " + name + " = ")
	p.value(reflect.ValueOf(value), true)
	p.b.WriteString("\n\n")
}

// Array prints the values of a slice as "var name = [...]T{…}". What points at an
// element of an array is laid out by the linker; at one of a slice, it would be
// written when the program starts.
func (p *Printer) Array(name string, slice any) {
	v := reflect.ValueOf(slice)
	p.b.WriteString("var " + name + " = [...]" + p.typeName(v.Type().Elem()))
	if v.Len() == 0 {
		p.b.WriteString("{}\n\n")
		return
	}
	p.value(v, false)
	p.b.WriteString("\n\n")
}

// Source is the whole file: header, package clause, imports, variables.
func (p *Printer) Source(header string) string {
	var out strings.Builder
	out.WriteString(header + "\n\npackage " + path.Base(p.pkg) + "\n\n")
	for _, i := range sorted(p.imports) {
		out.WriteString("import " + strconv.Quote(i) + "\n")
	}
	out.WriteString("\n" + p.b.String())
	return out.String()
}

func sorted(m map[string]bool) []string {
	var out []string
	for k := range m {
		i := len(out)
		for i > 0 && out[i-1] > k {
			i--
		}
		out = append(out[:i], append([]string{k}, out[i:]...)...)
	}
	return out
}

// typeName is a type as it is written in the package.
func (p *Printer) typeName(t reflect.Type) string {
	switch {
	case t.Name() != "" && (t.PkgPath() == "" || t.PkgPath() == p.pkg):
		return t.Name()
	case t.Name() != "":
		p.imports[t.PkgPath()] = true
		return path.Base(t.PkgPath()) + "." + t.Name()
	}
	switch t.Kind() {
	case reflect.Pointer:
		return "*" + p.typeName(t.Elem())
	case reflect.Slice:
		return "[]" + p.typeName(t.Elem())
	case reflect.Array:
		return fmt.Sprintf("[%d]%s", t.Len(), p.typeName(t.Elem()))
	case reflect.Struct:
		var f []string
		for i := range t.NumField() {
			f = append(f, t.Field(i).Name+" "+p.typeName(t.Field(i).Type))
		}
		return "struct{" + strings.Join(f, "; ") + "}"
	}
	panic("literal: no name for " + t.String())
}

// value prints v; typed says that its type must be written out.
func (p *Printer) value(v reflect.Value, typed bool) {
	switch v.Kind() {
	case reflect.Bool:
		fmt.Fprint(&p.b, v.Bool())
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		fmt.Fprint(&p.b, v.Int())
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		fmt.Fprint(&p.b, v.Uint())
	case reflect.Float64, reflect.Float32:
		p.float(v.Float())
	case reflect.String:
		p.b.WriteString(strconv.Quote(v.String()))
	case reflect.Slice, reflect.Array:
		p.elements(v, typed)
	case reflect.Struct:
		p.fields(v, typed)
	case reflect.Pointer:
		p.pointer(v)
	default:
		if !v.IsZero() {
			panic("literal: a " + v.Type().String() + " has no static literal")
		}
		p.b.WriteString("nil")
	}
}

// elements prints a slice or an array; many structs stand one a line.
func (p *Printer) elements(v reflect.Value, typed bool) {
	if v.Kind() == reflect.Slice && v.IsNil() {
		p.b.WriteString("nil")
		return
	}
	if typed {
		p.b.WriteString(p.typeName(v.Type()))
	}
	long := v.Len() > 8 && v.Type().Elem().Kind() == reflect.Struct
	p.b.WriteString("{")
	for i := range v.Len() {
		if long {
			p.b.WriteString("\n")
		}
		p.value(v.Index(i), false)
		if long || i < v.Len()-1 {
			p.b.WriteString(",")
		}
	}
	if long {
		p.b.WriteString("\n")
	}
	p.b.WriteString("}")
}

// fields prints a struct, without the fields that hold nothing.
func (p *Printer) fields(v reflect.Value, typed bool) {
	if typed {
		p.b.WriteString(p.typeName(v.Type()))
	}
	p.b.WriteString("{")
	first := true
	for i := range v.NumField() {
		f := v.Field(i)
		if f.IsZero() {
			continue
		}
		if !first {
			p.b.WriteString(",")
		}
		first = false
		p.b.WriteString(v.Type().Field(i).Name + ":")
		p.value(f, true)
	}
	p.b.WriteString("}")
}

// pointer prints the name of what is pointed at where it has one.
func (p *Printer) pointer(v reflect.Value) {
	if v.IsNil() {
		p.b.WriteString("nil")
		return
	}
	p.b.WriteString("&")
	if name, ok := p.names[v.Pointer()]; ok {
		p.b.WriteString(name)
		return
	}
	p.value(v.Elem(), true)
}

// float prints a figure so that it reads back the same; infinities stand in
// conditions without an upper or lower end.
func (p *Printer) float(f float64) {
	s := strconv.FormatFloat(f, 'g', -1, 64)
	switch s {
	case "+Inf":
		s = "inf"
	case "-Inf":
		s = "-inf"
	case "NaN":
		panic("literal: NaN")
	}
	p.b.WriteString(s)
}
