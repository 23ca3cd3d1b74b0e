package main

import (
	"go/ast"
	"go/types"
	"strings"
)

// typeName writes a type as this file can name it.
func (f *finder) typeName(t types.Type) (string, bool) {
	ok := true
	name := types.TypeString(types.Default(t), func(p *types.Package) string {
		if p == f.pkg {
			return ""
		}
		n, imported := f.imports[p.Path()]
		if !imported {
			ok = false
		}
		return n
	})
	return name, ok && !strings.Contains(name, " ")
}

// numeric reports whether an expression is an ordinary number.
func (f *finder) numeric(e ast.Expr) bool {
	t := f.info.Types[e].Type
	if t == nil {
		if i, ok := e.(*ast.Ident); ok && f.info.ObjectOf(i) != nil {
			t = f.info.ObjectOf(i).Type()
		}
	}
	if t == nil {
		return false
	}
	if p, ok := t.(*types.TypeParam); ok {
		return number(p)
	}
	b, ok := t.Underlying().(*types.Basic)
	return ok && b.Info()&(types.IsInteger|types.IsFloat) != 0
}

// number reports whether a type parameter stands for floats alone.
func number(p *types.TypeParam) bool {
	i, ok := p.Constraint().Underlying().(*types.Interface)
	if !ok || i.NumEmbeddeds() != 1 {
		return false
	}
	u, ok := i.EmbeddedType(0).(*types.Union)
	return ok && u.Len() == 1 && types.Identical(u.Term(0).Type(), types.Typ[types.Float64])
}

func (f *finder) float(e ast.Expr) bool {
	b, ok := f.info.Types[e].Type.(*types.Basic)
	return ok && b.Kind() == types.Float64
}

// is reports whether a call is one of a built-in function.
func (f *finder) is(c *ast.CallExpr, builtin string) bool {
	i, ok := c.Fun.(*ast.Ident)
	if !ok || i.Name != builtin {
		return false
	}
	_, ok = f.info.Uses[i].(*types.Builtin)
	return ok
}

// from reports whether a call is one of a function of a package.
func (f *finder) from(c *ast.CallExpr, path string) bool {
	s, ok := c.Fun.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	i, ok := s.X.(*ast.Ident)
	if !ok {
		return false
	}
	p, ok := f.info.Uses[i].(*types.PkgName)
	return ok && p.Imported().Path() == path
}

// calls reports whether an expression calls anything, so that evaluating it
// twice is not the same as once.
func calls(e ast.Expr) bool {
	found := false
	ast.Inspect(e, func(n ast.Node) bool {
		if _, ok := n.(*ast.CallExpr); ok {
			found = true
		}
		return !found
	})
	return found
}
