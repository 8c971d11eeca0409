package testkit

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Lines writes an answer as its JSON has it, a line for each thing in it and figures to
// three places, so that a golden file of answers reads line by line. Without says which
// keys of a thing are left out.
func Lines(t testing.TB, answer any, without func(key string, of map[string]any) bool) string {
	t.Helper()
	text, err := json.Marshal(answer)
	require.NoError(t, err)
	var all any
	require.NoError(t, json.Unmarshal(text, &all))
	l := &liner{without: without}
	l.write("", all, 0)
	return l.b.String()
}

type liner struct {
	b       strings.Builder
	without func(key string, of map[string]any) bool
}

// write writes what is of a key: the answer and what lies in it by their keys, lists of
// things one to a line.
func (l *liner) write(key string, v any, depth int) {
	switch x := v.(type) {
	case map[string]any:
		if depth < 2 && hasThings(x) {
			for _, k := range slices.Sorted(maps.Keys(x)) {
				if !l.without(k, x) {
					l.write(strings.TrimPrefix(key+"."+k, "."), x[k], depth+1)
				}
			}
			return
		}
	case []any:
		if len(x) > 0 {
			if _, things := x[0].(map[string]any); things {
				for _, y := range x {
					l.write(key, y, depth)
				}
				return
			}
		}
	}
	if text := l.inline(v); text != "" {
		fmt.Fprintf(&l.b, "%s: %s\n", key, text)
	}
}

// hasThings reports whether a value of a thing is a list of things.
func hasThings(x map[string]any) bool {
	for _, v := range x {
		if list, ok := v.([]any); ok && len(list) > 0 {
			if _, thing := list[0].(map[string]any); thing {
				return true
			}
		}
	}
	return false
}

// inline writes a value in a line.
func (l *liner) inline(v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case float64:
		return strconv.FormatFloat(v, 'g', 3, 64)
	case []any:
		var list []string
		for _, x := range v {
			list = append(list, l.inline(x))
		}
		return "[" + strings.Join(list, " ") + "]"
	case map[string]any:
		var list []string
		for _, k := range slices.Sorted(maps.Keys(v)) {
			if l.without(k, v) {
				continue
			}
			if text := l.inline(v[k]); text != "" {
				list = append(list, k+"="+text)
			}
		}
		if len(list) == 0 {
			return ""
		}
		return "{" + strings.Join(list, " ") + "}"
	}
	return fmt.Sprint(v)
}
