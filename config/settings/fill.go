package settings

import (
	"reflect"

	"stubbled/notify/terms"
)

// A Judge is a section that looks at itself once it was read: what its values
// say together.
type Judge interface {
	Judge(r *Reading, e *Entry)
}

// Fill reads a section into the struct whose tags gave it its shape, and what
// is below it. What was refused, and what nobody wrote, stays as it was.
func (r *Reading) Fill(e *Entry, into any) {
	if e != nil {
		r.section(e, reflect.ValueOf(into).Elem())
	}
}

func (r *Reading) section(e *Entry, into reflect.Value) {
	r.need(e)
	for _, key := range e.shape.keys {
		sh := e.shape.under[key]
		field := into.FieldByIndex(sh.index)
		switch at := e.under[key]; {
		case sh.later:
		case at != nil:
			r.put(at, field)
		case sh.usual != "" && !e.Written(key):
			if v, err := sh.parse(sh.usual); err == nil {
				set(field, reflect.ValueOf(v))
			}
		}
	}
	if j, ok := into.Addr().Interface().(Judge); ok {
		j.Judge(r, e)
	}
}

// need tells of every key of a section that must be written and isn't.
func (r *Reading) need(e *Entry) {
	for _, key := range e.shape.keys {
		if want := e.shape.under[key].missing; want != "" {
			r.Required(e, key, want)
		}
	}
}

// put reads what stands in one place.
func (r *Reading) put(e *Entry, into reflect.Value) {
	switch e.shape.form {
	case object:
		if into.Kind() == reflect.Pointer {
			into.Set(reflect.New(into.Type().Elem()))
			into = into.Elem()
		}
		r.section(e, into)
	case list:
		for _, item := range e.items {
			v := reflect.New(into.Type().Elem()).Elem()
			before := len(r.Problems)
			if r.put(item, v); item.shape.form == object || len(r.Problems) == before {
				into.Set(reflect.Append(into, v))
			}
		}
	case pairs:
		r.putPairs(e, into)
	default:
		if v, ok := r.read(e, e.shape.parse); ok {
			set(into, reflect.ValueOf(v))
		}
	}
}

// read turns an entry into a value by its parser, and tells what the parser
// refused.
func (r *Reading) read(e *Entry, parse func(string) (any, error)) (any, bool) {
	v, err := parse(e.Text)
	if err != nil {
		r.Say(e, "%v", err)
		return nil, false
	}
	return v, true
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
func (r *Reading) putPairs(e *Entry, into reflect.Value) {
	if into.Kind() != reflect.Map {
		fields := make([]terms.Field, len(e.Pairs))
		for i, p := range e.Pairs {
			fields[i] = terms.Field{Name: p.Name, Value: p.Text}
		}
		into.Set(reflect.ValueOf(fields))
		return
	}
	into.Set(reflect.MakeMap(into.Type()))
	for _, p := range e.Pairs {
		if v, ok := r.read(p.Entry, e.shape.parse); ok {
			into.SetMapIndex(reflect.ValueOf(p.Name), reflect.ValueOf(v))
		}
	}
}

// Value reads one value by the parser of its place. An entry that isn't there
// gives the zero value and false.
func Value[T any](r *Reading, e *Entry) (T, bool) {
	var v any
	ok := e != nil
	if ok {
		v, ok = r.read(e, e.shape.parse)
	}
	value, _ := v.(T)
	return value, ok
}
