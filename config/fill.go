package config

import (
	"reflect"
)

// A judge looks at a section that was read: what its values say together.
type judge interface {
	judge(l *loader, e *entry)
}

// fill reads a section into the struct whose tags gave it its shape, and what
// is below it. What was refused, and what nobody wrote, stays as it was.
func (l *loader) fill(e *entry, into any) {
	if e != nil {
		l.section(e, reflect.ValueOf(into).Elem())
	}
}

func (l *loader) section(e *entry, into reflect.Value) {
	l.need(e)
	for _, key := range e.shape.keys {
		sh := e.shape.under[key]
		field := into.FieldByIndex(sh.index)
		switch at := e.under[key]; {
		case sh.later:
		case at != nil:
			l.put(at, field)
		case sh.usual != "" && !e.written(key):
			if v, err := sh.parse(sh.usual); err == nil {
				set(field, reflect.ValueOf(v))
			}
		}
	}
	if j, ok := into.Addr().Interface().(judge); ok {
		j.judge(l, e)
	}
}

// need tells of every key of a section that must be written and isn't.
func (l *loader) need(e *entry) {
	for _, key := range e.shape.keys {
		if want := e.shape.under[key].missing; want != "" {
			l.required(e, key, want)
		}
	}
}

// put reads what stands in one place.
func (l *loader) put(e *entry, into reflect.Value) {
	switch e.shape.form {
	case object:
		if into.Kind() == reflect.Pointer {
			into.Set(reflect.New(into.Type().Elem()))
			into = into.Elem()
		}
		l.section(e, into)
	case list:
		for _, item := range e.items {
			v := reflect.New(into.Type().Elem()).Elem()
			before := len(l.problems)
			if l.put(item, v); item.shape.form == object || len(l.problems) == before {
				into.Set(reflect.Append(into, v))
			}
		}
	case pairs:
		l.putPairs(e, into)
	default:
		if v, ok := read(l, e, e.shape.parse); ok {
			set(into, reflect.ValueOf(v))
		}
	}
}

// set gives a field its value, or a pointer to it where the field may be nil.
func set(field, v reflect.Value) {
	if field.Kind() == reflect.Pointer && v.Kind() != reflect.Pointer {
		p := reflect.New(field.Type().Elem())
		p.Elem().Set(v)
		v = p
	}
	field.Set(v.Convert(field.Type()))
}

// putPairs reads keys of the reader's own: into a map, or in their order into
// fields.
func (l *loader) putPairs(e *entry, into reflect.Value) {
	if into.Kind() != reflect.Map {
		fields := make([]Field, len(e.pairs))
		for i, p := range e.pairs {
			fields[i] = Field{p.name, p.text}
		}
		into.Set(reflect.ValueOf(fields))
		return
	}
	into.Set(reflect.MakeMap(into.Type()))
	for _, p := range e.pairs {
		if v, ok := read(l, p.entry, e.shape.parse); ok {
			into.SetMapIndex(reflect.ValueOf(p.name), reflect.ValueOf(v))
		}
	}
}

// value reads one value by the parser of its place.
func value[T any](l *loader, e *entry) (T, bool) {
	var zero T
	if e == nil {
		return zero, false
	}
	v, ok := read(l, e, e.shape.parse)
	if !ok {
		return zero, false
	}
	return v.(T), true
}
