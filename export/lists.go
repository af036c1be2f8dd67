package export

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"bankwright/engine/check"
)

// lists are the columns of the sheet Lists, from which drop-downs choose.
type lists struct {
	titles []string
	values [][]any
	at     map[string]string
}

const listHead = 3 // row of the titles

func (l *lists) add(key, title string, values []any) string {
	if l.at == nil {
		l.at = map[string]string{}
	}
	if r, ok := l.at[key]; ok {
		return r
	}
	l.titles, l.values = append(l.titles, title), append(l.values, values)
	col := columnName(len(l.titles))
	l.at[key] = fmt.Sprintf("Lists!$%s$%d:$%s$%d", col, listHead+1, col, listHead+len(values))
	return l.at[key]
}

// truths is the list of TRUE and FALSE.
func (l *lists) truths() string { return l.add("", "True or false", []any{true, false}) }

// choices is the list of the texts that a quantity may have.
func (l *lists) choices(q *check.Quantity) string {
	values := make([]any, len(q.Choices))
	for i, c := range q.Choices {
		values[i] = c
	}
	return l.add(strings.Join(q.Choices, "\n"), labelOf(q), values)
}

func (l *lists) sheet() *Sheet {
	s := &Sheet{Name: "Lists", FreezeRows: listHead, Print: Print{RepeatRows: listHead}}
	s.text(1, 1, "Lists that the drop-downs choose from", Title)
	for i, t := range l.titles {
		s.Set(listHead, i+1, Cell{Value: t, Style: HeadText, Lines: 2})
		wide := utf8.RuneCountInString(t)/2 + 3
		for j, v := range l.values[i] {
			s.Set(listHead+1+j, i+1, Cell{Value: v, Style: Plain, Format: listFormat(v)})
			text, _ := v.(string)
			wide = max(wide, utf8.RuneCountInString(text))
		}
		s.Widths = append(s.Widths, float64(max(9, wide+1)))
	}
	return s
}

func listFormat(v any) string {
	if _, ok := v.(bool); ok {
		return TruthFormat
	}
	return ""
}
