package condition

import (
	"cel.dev/cel-go/common/ast"
	"cel.dev/cel-go/common/operators"
	"cel.dev/cel-go/common/types"
)

// Comparison is a fact that a condition compares with a text: ends == "flanged".
type Comparison struct{ Name, Text string }

// compared finds the comparisons of facts with texts, by ==, != and in [...].
func compared(whole *ast.AST) []Comparison {
	var out []Comparison
	note := func(name, text ast.Expr) {
		if name.Kind() == ast.IdentKind && text.Kind() == ast.LiteralKind &&
			text.AsLiteral().Type() == types.StringType {
			out = append(out, Comparison{name.AsIdent(), text.AsLiteral().Value().(string)})
		}
	}
	ast.PreOrderVisit(whole.Expr(), ast.NewExprVisitor(func(e ast.Expr) {
		if e.Kind() != ast.CallKind || len(e.AsCall().Args()) != 2 {
			return
		}
		left, right := e.AsCall().Args()[0], e.AsCall().Args()[1]
		switch e.AsCall().FunctionName() {
		case operators.Equals, operators.NotEquals:
			note(left, right)
			note(right, left)
		case operators.In:
			if right.Kind() == ast.ListKind {
				for _, text := range right.AsList().Elements() {
					note(left, text)
				}
			}
		}
	}))
	return out
}
