package engine_test

import (
	"strings"
	"testing"

	"waywright/checks"
	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/procedures"
)

// A shop may only raise the rule of a procedure. A gate's own stands first
// (semantics rule 27).
func TestMeasureRule12ShopRule(t *testing.T) {
	for _, tt := range []struct {
		procedure, gate, shop checks.Rule
		want                  checks.Rule
		from                  engine.RuleFrom
	}{
		{checks.NoRule, checks.NoRule, checks.NoRule, checks.Guarded, engine.RuleOfProcedure},
		{checks.NoRule, checks.NoRule, checks.Simple, checks.Guarded, engine.RuleOfProcedure},
		{checks.NoRule, checks.NoRule, checks.Strict, checks.Strict, engine.RuleOfShop},
		{checks.Guarded, checks.NoRule, checks.Guarded, checks.Guarded, engine.RuleOfProcedure},
		{checks.Guarded, checks.NoRule, checks.Strict, checks.Strict, engine.RuleOfShop},
		{checks.Strict, checks.NoRule, checks.Guarded, checks.Strict, engine.RuleOfProcedure},
		{checks.Strict, checks.NoRule, checks.Simple, checks.Strict, engine.RuleOfProcedure},
		{checks.Simple, checks.NoRule, checks.Guarded, checks.Guarded, engine.RuleOfShop},
		{checks.Guarded, checks.Simple, checks.Strict, checks.Simple, engine.RuleOfGate},
		{checks.Simple, checks.Strict, checks.Guarded, checks.Strict, engine.RuleOfGate},
	} {
		got, from := engine.RuleFor(&procedures.Procedure{Decision: tt.procedure}, &procedures.Gate{Decision: tt.gate}, tt.shop)
		if got != tt.want || from != tt.from {
			t.Errorf("procedure %q, gate %q, shop %q: %q of the %s, want %q of the %s", tt.procedure, tt.gate, tt.shop, got, from, tt.want, tt.from)
		}
	}
}

// 97 µm against 100 with a u of 1.55 µm is kept with a probability of 0.97:
// enough for 0.95, not for 0.977. Derived here, from the sources of
// TestMeasureRule1To5InTheEngine.
func TestMeasureRule12ShopRuleInARun(t *testing.T) {
	for _, tt := range []struct {
		shop string
		want checks.Verdict
		rule checks.Rule
	}{
		{"", checks.Pass, checks.Guarded},
		{" rule=simple", checks.Pass, checks.Guarded},
		{" rule=guarded", checks.Pass, checks.Guarded},
		{" rule=strict", checks.Undecided, checks.Strict},
	} {
		script := strings.NewReplacer("begin corr-doubt", "begin corr-doubt"+tt.shop, "alone = 5", "alone = 97").Replace(readOnce)
		j := judgementOf(t, enginetest.Play(t, script, load).State(), "true_zero")
		if j.Verdict != tt.want || j.Rule != tt.rule || j.P < 0.95 || j.P > 0.977 {
			t.Errorf("shop%q: %s under %s with p %.4f; want %s under %s, p between 0.95 and 0.977", tt.shop, j.Verdict, j.Rule, j.P, tt.want, tt.rule)
		}
	}
}
