package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// mutant is one change: the text from start to end becomes a form that behaves
// as before unless its switch is on. In form, @ is the condition of the switch.
type mutant struct {
	file       string
	start, end int
	line       int
	form       string
	says       string
	needs      int // a further line that must be run for the change to be felt: the first of the block it takes out
}

func (m mutant) where() string { return fmt.Sprintf("%s:%d", filepath.Base(m.file), m.line) }

// pkg is a package as it was type-checked.
type pkg struct {
	ImportPath, Dir, Name string
	GoFiles               []string
	fset                  *token.FileSet
	info                  *types.Info
	files                 map[string]*ast.File
	types                 *types.Package
}

// load reads and type-checks a package; what it imports is read as compiled.
func load(pattern string) (*pkg, error) {
	out, err := exec.Command("go", "list", "-export", "-deps", "-json=ImportPath,Dir,Name,GoFiles,Export,DepOnly", pattern).Output()
	if err != nil {
		return nil, err
	}
	var p *pkg
	exports := map[string]string{}
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var l struct {
			pkg
			Export  string
			DepOnly bool
		}
		if err := d.Decode(&l); err == io.EOF {
			break
		} else if err != nil {
			return nil, err
		}
		exports[l.ImportPath] = l.Export
		if !l.DepOnly {
			q := l.pkg
			p = &q
		}
	}
	if p == nil {
		return nil, fmt.Errorf("no such package")
	}
	p.fset, p.files = token.NewFileSet(), map[string]*ast.File{}
	p.info = &types.Info{Types: map[ast.Expr]types.TypeAndValue{}}
	var list []*ast.File
	for _, name := range p.GoFiles {
		at := filepath.Join(p.Dir, name)
		f, err := parser.ParseFile(p.fset, at, nil, parser.ParseComments)
		if err != nil {
			return nil, err
		}
		list = append(list, f)
		if !ast.IsGenerated(f) {
			p.files[at] = f
		}
	}
	conf := types.Config{Importer: importer.ForCompiler(p.fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })}
	p.types, err = conf.Check(p.ImportPath, p.fset, list, p.info)
	return p, err
}

// covered reads a profile: the lines of each file that were run.
func covered(profile, importPath string) (map[string]map[int]bool, error) {
	f, err := os.Open(profile)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	out := map[string]map[int]bool{}
	for sc := bufio.NewScanner(f); sc.Scan(); {
		name, rest, ok := strings.Cut(sc.Text(), ".go:")
		var l0, c0, l1, c1, statements, count int
		if !ok {
			continue
		}
		if _, err := fmt.Sscanf(rest, "%d.%d,%d.%d %d %d", &l0, &c0, &l1, &c1, &statements, &count); err != nil || count == 0 {
			continue
		}
		base := strings.TrimPrefix(name, importPath+"/") + ".go"
		if out[base] == nil {
			out[base] = map[int]bool{}
		}
		for l := l0; l <= l1; l++ {
			out[base][l] = true
		}
	}
	return out, nil
}

// turned says what an operator becomes.
var turned = map[token.Token]token.Token{
	token.LSS: token.LEQ, token.LEQ: token.LSS, token.GTR: token.GEQ, token.GEQ: token.GTR, token.EQL: token.NEQ, token.NEQ: token.EQL,
	token.LAND: token.LOR, token.LOR: token.LAND,
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL,
}

// mutants lists the changes in covered lines.
func (p *pkg) mutants(lines map[string]map[int]bool) ([]mutant, error) {
	var out []mutant
	names := make([]string, 0, len(p.files))
	for at := range p.files {
		names = append(names, at)
	}
	slices.Sort(names)
	for _, at := range names {
		src, err := os.ReadFile(at)
		if err != nil {
			return nil, err
		}
		run := lines[filepath.Base(at)]
		s := &seeker{pkg: p, at: at, src: src, file: p.files[at]}
		for _, d := range s.file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && f.Body != nil {
				s.fills = s.filled(f.Body)
				ast.Inspect(f.Body, s.look)
			}
		}
		for _, m := range s.found {
			if run[m.line] && (m.needs == 0 || run[m.needs]) {
				out = append(out, m)
			}
		}
	}
	return out, nil
}

// seeker finds the mutants of one file.
type seeker struct {
	*pkg
	at    string
	src   []byte
	file  *ast.File
	fills map[string]bool // the maps that the function at hand puts something into
	found []mutant
}

func (s *seeker) text(n ast.Node) string {
	return string(s.src[s.fset.Position(n.Pos()).Offset:s.fset.Position(n.End()).Offset])
}

func (s *seeker) add(n ast.Node, form, says string) {
	pos := s.fset.Position(n.Pos())
	s.found = append(s.found, mutant{s.at, pos.Offset, s.fset.Position(n.End()).Offset, pos.Line, form, says, 0})
}

func (s *seeker) look(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.GenDecl:
		return n.Tok == token.VAR
	case *ast.CallExpr:
		return !s.indifferent(n)
	case *ast.ReturnStmt:
		if s.fails(n) {
			for _, r := range n.Results {
				if l, ok := r.(*ast.BasicLit); !ok || l.Value != "0" {
					ast.Inspect(r, s.look)
				}
			}
			return false
		}
	case *ast.RangeStmt:
		if l, ok := n.X.(*ast.BasicLit); ok {
			s.once(l)
			ast.Inspect(n.Body, s.look)
			return false
		}
	case *ast.IfStmt:
		if leaves(n.Body) && n.Else == nil && !s.kept(n) {
			c := s.text(n.Cond)
			s.add(n.Cond, "(("+c+") && !@)", "if "+c+" is never so")
			s.found[len(s.found)-1].needs = s.fset.Position(n.Body.List[0].Pos()).Line
		}
	case *ast.BinaryExpr:
		s.binary(n)
	case *ast.BasicLit:
		s.literal(n)
	}
	return true
}

// indifferent reports whether a call takes figures that no test can feel: the room
// made for what is to come, the seed of a draw, the rights of a file, the bits of a
// number that has room enough.
func (s *seeker) indifferent(n *ast.CallExpr) bool {
	switch f := n.Fun.(type) {
	case *ast.Ident:
		return f.Name == "make"
	case *ast.SelectorExpr:
		switch name := s.text(f); name {
		case "rand.NewPCG", "os.WriteFile", "os.MkdirAll", "os.OpenFile", "strconv.ParseFloat", "strconv.ParseInt", "slices.Grow":
			return true
		default:
			return f.Sel.Name == "Grow"
		}
	}
	return false
}

// fails reports whether a return gives an error, or says that there is nothing: nobody
// looks at the zeros beside it.
func (s *seeker) fails(n *ast.ReturnStmt) bool {
	if len(n.Results) < 2 {
		return false
	}
	for _, r := range n.Results {
		if x, ok := r.(*ast.Ident); ok && x.Name == "false" {
			return true
		}
	}
	last := n.Results[len(n.Results)-1]
	t := s.info.Types[last]
	if t.IsNil() || t.Type == nil {
		return false
	}
	_, pointer := t.Type.Underlying().(*types.Pointer)
	return pointer || types.Identical(t.Type, types.Universe.Lookup("error").Type())
}

// kept reports whether an early exit gives back what the same function has kept from
// an earlier call: without it the answer is only slower.
func (s *seeker) kept(n *ast.IfStmt) bool {
	a, ok := n.Init.(*ast.AssignStmt)
	if !ok || len(a.Rhs) != 1 {
		return false
	}
	x, ok := a.Rhs[0].(*ast.IndexExpr)
	return ok && s.fills[s.text(x.X)]
}

// filled lists the maps that a function puts something into.
func (s *seeker) filled(body *ast.BlockStmt) map[string]bool {
	out := map[string]bool{}
	ast.Inspect(body, func(n ast.Node) bool {
		if a, ok := n.(*ast.AssignStmt); ok {
			for _, l := range a.Lhs {
				if x, ok := l.(*ast.IndexExpr); ok {
					out[s.text(x.X)] = true
				}
			}
		}
		return true
	})
	return out
}

// once lets an iteration run a single time: one round more than is enough changes nothing.
func (s *seeker) once(l *ast.BasicLit) {
	if l.Kind == token.INT && l.Value != "1" {
		s.add(l, fmt.Sprintf("func() int { if @ { return 1 }; return %s }()", l.Value), "for range "+l.Value+" became 1")
	}
}

// leaves tells whether a block is an early exit.
func leaves(b *ast.BlockStmt) bool {
	if len(b.List) == 0 {
		return false
	}
	switch b.List[len(b.List)-1].(type) {
	case *ast.ReturnStmt, *ast.BranchStmt:
		return true
	}
	return false
}

func (s *seeker) binary(n *ast.BinaryExpr) {
	to, ok := turned[n.Op]
	t := s.info.Types[n]
	if !ok || t.Value != nil {
		return
	}
	if b, isBasic := t.Type.Underlying().(*types.Basic); !isBasic || b.Info()&(types.IsNumeric|types.IsBoolean) == 0 {
		return
	}
	name, ok := s.name(t.Type)
	if !ok {
		return
	}
	x, y := s.text(n.X), s.text(n.Y)
	if opposite, ok := opposed[n.Op]; ok && s.computed(n.X) && s.computed(n.Y) {
		to = opposite
	}
	s.add(n, fmt.Sprintf("func() %s { if @ { return %s %s %s }; return %s %s %s }()", name, x, to, y, x, n.Op, y), fmt.Sprintf("%s %s %s became %s", x, n.Op, y, to))
}

// opposed turns a comparison of two computed figures about: they are equal by
// accident alone, so that the bound itself cannot be tried.
var opposed = map[token.Token]token.Token{token.LSS: token.GTR, token.LEQ: token.GTR, token.GTR: token.LSS, token.GEQ: token.LSS}

// computed reports whether an expression is a figure with a fraction that is worked out.
func (s *seeker) computed(e ast.Expr) bool {
	t := s.info.Types[e]
	b, ok := t.Type.Underlying().(*types.Basic)
	return ok && t.Value == nil && b.Info()&types.IsFloat != 0
}

// rounding is the largest figure that only takes up what sums in binary lose.
const rounding = 1e-6

func (s *seeker) literal(n *ast.BasicLit) {
	t := s.info.Types[n]
	if (n.Kind != token.INT && n.Kind != token.FLOAT) || t.Value == nil {
		return
	}
	name, ok := s.name(t.Type)
	if !ok {
		return
	}
	v, _ := constant.Float64Val(constant.ToFloat(t.Value))
	if v != 0 && math.Abs(v) <= rounding {
		return
	}
	to := fmt.Sprintf("%s + 1", n.Value)
	if n.Kind == token.FLOAT {
		to = fmt.Sprintf("%g", v*1.25)
		if v == 0 {
			to = "0.25"
		}
	}
	s.add(n, fmt.Sprintf("func() %s { if @ { return %s }; return %s }()", name, to, n.Value), n.Value+" became "+to)
}

// name is how a type is written in the file, if it can be.
func (s *seeker) name(t types.Type) (string, bool) {
	if b, ok := t.(*types.Basic); ok && b.Info()&types.IsUntyped != 0 {
		t = types.Default(t)
	}
	ok := true
	name := types.TypeString(t, func(other *types.Package) string {
		if other == s.types {
			return ""
		}
		for _, i := range s.file.Imports {
			if strings.Trim(i.Path.Value, `"`) == other.Path() {
				if i.Name != nil {
					return i.Name.Name
				}
				return other.Name()
			}
		}
		ok = false
		return ""
	})
	return name, ok
}

// span is where a mutant stands in the rewritten file.
type span struct{ mutant, from, to int }

// rewritten is a file with the mutants in it.
func rewritten(file string, ms []mutant, which []int) ([]byte, []span, error) {
	src, err := os.ReadFile(file)
	if err != nil {
		return nil, nil, err
	}
	slices.SortFunc(which, func(a, b int) int { return ms[a].start - ms[b].start })
	var out bytes.Buffer
	var spans []span
	last := 0
	for _, i := range which {
		m := ms[i]
		out.Write(src[last:m.start])
		from := 1 + bytes.Count(out.Bytes(), []byte("\n"))
		out.WriteString(strings.Replace(m.form, "@", fmt.Sprintf("(mutantOn == %d)", i+1), 1))
		spans = append(spans, span{i, from, 1 + bytes.Count(out.Bytes(), []byte("\n"))})
		last = m.end
	}
	out.Write(src[last:])
	return out.Bytes(), spans, nil
}
