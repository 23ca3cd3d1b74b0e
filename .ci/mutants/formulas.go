package main

import (
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"strings"
)

// formulas collects the formulas of the file: arithmetic and functions of package
// math that give a float64 which is returned, assigned, appended or put into a
// literal. Of a formula within another the outer one counts. What is no part of an
// answer is left out: functions that return nothing but texts, errors and truth
// values, and checks.
func (f *finder) formulas() {
	for _, d := range f.file.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			f.in = d.Name.Name
			if d.Recv != nil {
				f.in = receiver(d.Recv.List[0].Type) + "." + f.in
			}
			if d.Body != nil && !f.speaks(d) {
				f.bendIn(d.Body)
			}
		case *ast.GenDecl:
			if d.Tok == token.VAR {
				f.in = "var"
				f.bendIn(d)
			}
		}
	}
}

// speaks reports whether a function's results are texts, errors and truth values
// alone, or whether it has no result and records faults.
func (f *finder) speaks(d *ast.FuncDecl) bool {
	s := f.info.Defs[d.Name].Type().(*types.Signature)
	for v := range s.Results().Variables() {
		t := types.TypeString(v.Type(), (*types.Package).Name)
		switch strings.TrimPrefix(t, "[]") {
		case "string", "error", "bool", "units.Warning", "units.Step":
		default:
			return false
		}
	}
	if s.Results().Len() > 0 {
		return true
	}
	for v := range s.Params().Variables() {
		if types.TypeString(v.Type(), (*types.Package).Name) == "*units.Checker" {
			return true
		}
	}
	return false
}

// bendIn looks for formulas in all statements below a node.
func (f *finder) bendIn(n ast.Node) {
	ast.Inspect(n, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ReturnStmt:
			f.bendAll(n.Results)
		case *ast.AssignStmt:
			if n.Tok == token.MUL_ASSIGN || n.Tok == token.QUO_ASSIGN {
				f.bend(n.Rhs[0])
			} else {
				f.bendAll(n.Rhs)
			}
		case *ast.ValueSpec:
			f.bendAll(n.Values)
		case *ast.CompositeLit:
			f.bendAll(n.Elts)
		case *ast.CallExpr:
			if f.is(n, "append") {
				f.bendAll(n.Args[1:])
			}
		}
		return true
	})
}

func (f *finder) bendAll(list []ast.Expr) {
	for _, e := range list {
		f.within(e)
	}
}

// within looks for the formula that an expression is, apart from conversions.
func (f *finder) within(e ast.Expr) {
	switch e := e.(type) {
	case *ast.ParenExpr:
		f.within(e.X)
	case *ast.KeyValueExpr:
		f.within(e.Value)
	case *ast.UnaryExpr:
		if e.Op == token.SUB {
			f.within(e.X)
		}
	case *ast.BinaryExpr:
		if _, _, ok := arithmetic(e.Op); ok {
			f.bend(e)
		}
	case *ast.CallExpr:
		switch {
		case f.info.Types[e.Fun].IsType():
			f.bendAll(e.Args)
		case f.is(e, "min"), f.is(e, "max"), f.from(e, "math"):
			if name := f.text(e.Fun); name != "math.Inf" && name != "math.NaN" {
				f.bend(e)
			}
		}
	}
}

// bend adds a formula, if it is a float64 that no constant is.
func (f *finder) bend(e ast.Expr) {
	t := f.info.Types[e]
	if t.Type == nil || t.Value != nil || !f.numeric(e) {
		return
	}
	if b, ok := t.Type.Underlying().(*types.Basic); ok && b.Kind() != types.Float64 {
		return
	}
	id := f.add(e, "bend", "1.01 × that")
	f.wrap(e, fmt.Sprintf("mutBend(%d, ", id), ")")
}
