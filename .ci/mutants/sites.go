package main

import (
	"fmt"
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"strings"
)

// A mutant is one small fault that can be switched on.
type mutant struct {
	id   int    // counted from 1 within its package
	file string // base name
	line int
	in   string // the function or variable around it
	kind string // arithmetic, bound, condition, logic, sign, constant, call, statement
	was  string // the source text
	is   string // what it becomes
}

// An edit replaces the bytes from 'from' to 'to' of a file. At one place inner
// expressions close first, outer ones open first; span tells them apart.
type edit struct {
	from, to int
	text     string
	closing  bool
	span     int
}

// A finder collects the mutants of one file, and the edits that build them in.
type finder struct {
	fset    *token.FileSet
	info    *types.Info
	pkg     *types.Package
	src     []byte
	file    *ast.File
	name    string
	imports map[string]string // path → name in this file
	mutants *[]mutant
	edits   []edit
	in      string
}

func (f *finder) offset(p token.Pos) int { return f.fset.Position(p).Offset }

func (f *finder) text(n ast.Node) string {
	return strings.Join(strings.Fields(string(f.src[f.offset(n.Pos()):f.offset(n.End())])), " ")
}

// add notes a mutant and returns its number.
func (f *finder) add(n ast.Node, kind, is string) int {
	id := len(*f.mutants) + 1
	line := f.fset.Position(n.Pos()).Line
	*f.mutants = append(*f.mutants, mutant{id: id, file: f.name, line: line, in: f.in, kind: kind, was: f.text(n), is: is})
	return id
}

// wrap puts text before and after a node.
func (f *finder) wrap(n ast.Node, before, after string) {
	from, to := f.offset(n.Pos()), f.offset(n.End())
	f.edits = append(f.edits,
		edit{from: from, to: from, text: before, span: to - from},
		edit{from: to, to: to, text: after, span: to - from, closing: true})
}

// swap replaces an operator of the given length at a place.
func (f *finder) swap(at token.Pos, length int, text string) {
	o := f.offset(at)
	f.edits = append(f.edits, edit{from: o, to: o + length, text: text, span: -1})
}

// find collects all mutants of the file.
func (f *finder) find() {
	for _, d := range f.file.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			f.in = d.Name.Name
			if d.Recv != nil {
				f.in = receiver(d.Recv.List[0].Type) + "." + f.in
			}
			if d.Body != nil {
				f.block(d.Body.List)
			}
		case *ast.GenDecl:
			if d.Tok != token.VAR {
				continue
			}
			for _, s := range d.Specs {
				v := s.(*ast.ValueSpec)
				f.in = "var " + v.Names[0].Name
				f.exprs(v.Values)
			}
		}
	}
}

func receiver(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.StarExpr:
		return receiver(e.X)
	case *ast.IndexExpr:
		return receiver(e.X)
	case *ast.IndexListExpr:
		return receiver(e.X)
	case *ast.Ident:
		return e.Name
	}
	return "?"
}

// block walks statements that may be left out one by one.
func (f *finder) block(list []ast.Stmt) {
	for _, s := range list {
		f.stmt(s, true)
	}
}

// stmt walks a statement; free says that it may be left out or wrapped, which
// those in the head of an if, a for or a switch may not.
func (f *finder) stmt(s ast.Stmt, free bool) {
	switch s := s.(type) {
	case *ast.AssignStmt:
		f.assign(s, free)
	case *ast.ExprStmt:
		if c, ok := s.X.(*ast.CallExpr); ok && free && !f.is(c, "panic") {
			f.drop(s)
		}
		f.expr(s.X)
	case *ast.IncDecStmt:
		if free {
			f.drop(s)
		}
	case *ast.BlockStmt:
		f.block(s.List)
	case *ast.IfStmt:
		f.head(s.Init)
		f.cond(s.Cond)
		f.block(s.Body.List)
		if s.Else != nil {
			f.stmt(s.Else, false)
		}
	case *ast.ForStmt:
		f.head(s.Init)
		if s.Cond != nil {
			f.cond(s.Cond)
		}
		f.head(s.Post)
		f.block(s.Body.List)
	case *ast.RangeStmt:
		f.expr(s.X)
		f.block(s.Body.List)
	case *ast.SwitchStmt:
		f.head(s.Init)
		if s.Tag != nil {
			f.expr(s.Tag)
		}
		for _, c := range s.Body.List {
			c := c.(*ast.CaseClause)
			if s.Tag == nil {
				for _, e := range c.List {
					f.cond(e)
				}
			}
			f.block(c.Body)
		}
	case *ast.TypeSwitchStmt:
		for _, c := range s.Body.List {
			f.block(c.(*ast.CaseClause).Body)
		}
	case *ast.SelectStmt:
		for _, c := range s.Body.List {
			f.block(c.(*ast.CommClause).Body)
		}
	case *ast.ReturnStmt:
		f.exprs(s.Results)
	case *ast.DeclStmt:
		if d, ok := s.Decl.(*ast.GenDecl); ok && d.Tok == token.VAR {
			for _, v := range d.Specs {
				f.exprs(v.(*ast.ValueSpec).Values)
			}
		}
	case *ast.DeferStmt:
		f.expr(s.Call)
	case *ast.GoStmt:
		f.expr(s.Call)
	case *ast.LabeledStmt:
		f.stmt(s.Stmt, false)
	case *ast.SendStmt:
		f.expr(s.Value)
	}
}

func (f *finder) head(s ast.Stmt) {
	if s != nil {
		f.stmt(s, false)
	}
}

// drop makes a mutant that leaves a statement out.
func (f *finder) drop(s ast.Stmt) {
	id := f.add(s, "statement", "(left out)")
	f.wrap(s, fmt.Sprintf("if !mutOn(%d) { ", id), " }")
}

func (f *finder) assign(s *ast.AssignStmt, free bool) {
	blank := true
	for _, l := range s.Lhs {
		if i, ok := l.(*ast.Ident); !ok || i.Name != "_" {
			blank = false
		}
	}
	if free && s.Tok != token.DEFINE && !blank {
		f.drop(s)
	}
	f.exprs(s.Rhs)
	if name, op, ok := arithmetic(compound[s.Tok]); ok && f.numeric(s.Lhs[0]) && !calls(s.Lhs[0]) {
		x, y := s.Lhs[0], s.Rhs[0]
		id := f.add(s, "arithmetic", f.text(x)+" "+op+"= "+f.text(y))
		f.swap(s.TokPos, len(s.Tok.String()), fmt.Sprintf("= %s(%d, %s, ", name, id, f.text(x)))
		end := f.offset(y.End())
		f.edits = append(f.edits, edit{from: end, to: end, text: ")", span: end - f.offset(x.Pos()) - 1, closing: true})
	}
}

// compound returns the operator that an assignment such as += holds.
var compound = map[token.Token]token.Token{
	token.ADD_ASSIGN: token.ADD, token.SUB_ASSIGN: token.SUB,
	token.MUL_ASSIGN: token.MUL, token.QUO_ASSIGN: token.QUO,
}

// arithmetic names the switch of an operator and the operator it turns into.
func arithmetic(t token.Token) (name, becomes string, ok bool) {
	switch t {
	case token.ADD:
		return "mutAdd", "-", true
	case token.SUB:
		return "mutSub", "+", true
	case token.MUL:
		return "mutMul", "/", true
	case token.QUO:
		return "mutDiv", "*", true
	case token.REM:
		return "mutRem", "*", true
	}
	return "", "", false
}

// ordered holds the switch of a comparison, its neighbour and its opposite.
var ordered = map[token.Token][3]string{
	token.LSS: {"mutLess", "<=", ">="},
	token.LEQ: {"mutLessEqual", "<", ">"},
	token.GTR: {"mutGreater", ">=", "<="},
	token.GEQ: {"mutGreaterEqual", ">", "<"},
}

// cond walks a condition. One that is neither a comparison nor joined by a
// logical operator is turned round as a whole.
func (f *finder) cond(e ast.Expr) {
	switch inner := ast.Unparen(e).(type) {
	case *ast.BinaryExpr:
	case *ast.UnaryExpr:
		if inner.Op != token.NOT {
			break
		}
		f.cond(inner.X)
		return
	default:
		if f.info.Types[e].Value == nil {
			id := f.add(e, "condition", "!("+f.text(e)+")")
			f.wrap(e, fmt.Sprintf("mutNot(%d, ", id), ")")
		}
	}
	f.expr(e)
}

func (f *finder) exprs(list []ast.Expr) {
	for _, e := range list {
		f.expr(e)
	}
}

func (f *finder) expr(e ast.Expr) {
	if e == nil {
		return
	}
	if v := f.info.Types[e].Value; v != nil {
		f.constant(e, v)
		return
	}
	switch e := e.(type) {
	case *ast.BinaryExpr:
		f.binary(e)
	case *ast.UnaryExpr:
		if e.Op == token.SUB && f.numeric(e.X) {
			id := f.add(e, "sign", f.text(e.X))
			f.swap(e.OpPos, 1, fmt.Sprintf("mutNeg(%d, ", id))
			end := f.offset(e.End())
			f.edits = append(f.edits, edit{from: end, to: end, text: ")", span: f.offset(e.End()) - f.offset(e.Pos()), closing: true})
		}
		if e.Op == token.NOT {
			f.cond(e.X)
			return
		}
		f.expr(e.X)
	case *ast.ParenExpr:
		f.expr(e.X)
	case *ast.CallExpr:
		f.call(e)
	case *ast.SelectorExpr:
		f.expr(e.X)
	case *ast.IndexExpr:
		if _, isType := f.info.Types[e.X]; isType && !f.info.Types[e.Index].IsType() {
			f.expr(e.X)
			f.expr(e.Index)
		}
	case *ast.SliceExpr:
		f.expr(e.X)
		f.expr(e.Low)
		f.expr(e.High)
	case *ast.StarExpr:
		f.expr(e.X)
	case *ast.TypeAssertExpr:
		f.expr(e.X)
	case *ast.KeyValueExpr:
		f.expr(e.Value)
	case *ast.CompositeLit:
		f.exprs(e.Elts)
	case *ast.FuncLit:
		f.block(e.Body.List)
	}
}

func (f *finder) binary(e *ast.BinaryExpr) {
	f.exprs([]ast.Expr{e.X, e.Y})
	x, y := f.text(e.X), f.text(e.Y)
	op := len(e.Op.String())
	switch e.Op {
	case token.LAND, token.LOR:
		name, is := "mutAnd", "||"
		if e.Op == token.LOR {
			name, is = "mutOr", "&&"
		}
		id := f.add(e, "logic", x+" "+is+" "+y)
		f.wrap(e, fmt.Sprintf("%s(%d, ", name, id), " })")
		f.swap(e.OpPos, op, ",")
		at := f.offset(e.Y.Pos()) // not at the operator: a line may end between them
		f.edits = append(f.edits, edit{from: at, to: at, text: "func() bool { return ", span: f.offset(e.Y.End()) - at + 1})
	case token.EQL, token.NEQ:
		is := "!="
		if e.Op == token.NEQ {
			is = "=="
		}
		id := f.add(e, "condition", x+" "+is+" "+y)
		f.wrap(e, fmt.Sprintf("mutNot(%d, ", id), ")")
	default:
		if !f.numeric(e.X) || !f.numeric(e.Y) {
			return
		}
		if c, ok := ordered[e.Op]; ok {
			bound := f.add(e, "bound", x+" "+c[1]+" "+y)
			f.add(e, "condition", x+" "+c[2]+" "+y)
			f.wrap(e, fmt.Sprintf("%s(%d, ", c[0], bound), ")")
			f.swap(e.OpPos, op, ", ")
		}
		if name, is, ok := arithmetic(e.Op); ok {
			id := f.add(e, "arithmetic", x+" "+is+" "+y)
			f.wrap(e, fmt.Sprintf("%s(%d, ", name, id), ")")
			f.swap(e.OpPos, op, ", ")
		}
	}
}

// call walks a call: its arguments, and for a few functions the call itself.
func (f *finder) call(c *ast.CallExpr) {
	if f.info.Types[c.Fun].IsType() { // a conversion
		f.exprs(c.Args)
		return
	}
	if f.is(c, "make") || f.is(c, "panic") || f.from(c, "fmt") || f.from(c, "errors") {
		return
	}
	switch {
	case len(c.Args) == 2 && (f.is(c, "min") || f.is(c, "max")) && f.numeric(c.Args[0]) && f.numeric(c.Args[1]):
		name, is := "mutMin", "max"
		if f.is(c, "max") {
			name, is = "mutMax", "min"
		}
		id := f.add(c, "call", is+"("+f.text(c.Args[0])+", "+f.text(c.Args[1])+")")
		o := f.offset(c.Fun.Pos())
		f.edits = append(f.edits, edit{from: o, to: f.offset(c.Lparen) + 1, text: fmt.Sprintf("%s(%d, ", name, id), span: -1})
		f.exprs(c.Args)
		return
	case f.from(c, "math") && len(c.Args) == 1 && f.float(c) && f.float(c.Args[0]):
		id := f.add(c, "call", f.text(c.Args[0]))
		fun := f.text(c.Fun)
		o := f.offset(c.Fun.Pos())
		f.edits = append(f.edits, edit{from: o, to: f.offset(c.Lparen) + 1, text: fmt.Sprintf("mutCall(%d, %s, ", id, fun), span: -1})
		f.exprs(c.Args)
		return
	}
	f.expr(c.Fun)
	f.exprs(c.Args)
}

// constant makes a mutant of a number or a truth value. Constants below 1e-6
// are tolerances and steps rather than parts of a formula, and stay.
func (f *finder) constant(e ast.Expr, v constant.Value) {
	t := f.info.Types[e].Type
	basic, ok := t.Underlying().(*types.Basic)
	if !ok {
		return
	}
	name, ok := f.typeName(t)
	if !ok {
		return
	}
	switch {
	case basic.Info()&types.IsBoolean != 0:
		id := f.add(e, "constant", fmt.Sprint(!constant.BoolVal(v)))
		f.wrap(e, fmt.Sprintf("mutTruth[%s](%d, ", name, id), ")")
	case basic.Info()&types.IsInteger != 0:
		id := f.add(e, "constant", f.text(e)+" + 1")
		f.wrap(e, fmt.Sprintf("mutInt[%s](%d, ", name, id), ")")
	case basic.Info()&types.IsFloat != 0:
		x, _ := constant.Float64Val(constant.ToFloat(v))
		if x != 0 && -1e-6 < x && x < 1e-6 {
			return
		}
		is := "1.5 × " + f.text(e)
		if x == 0 {
			is = "1"
		}
		id := f.add(e, "constant", is)
		f.wrap(e, fmt.Sprintf("mutFloat[%s](%d, ", name, id), ")")
	}
}
