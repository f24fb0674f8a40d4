package rig

import "reflect"

// At returns the rig as it was, or will be, on a day: without the parts that are fitted later or were removed by then. A part without
// dates, or with unknown ones, is always there. A link of the charge line goes with its dc-dc unit. The rig itself is not changed and
// shares nothing with what is returned. A day that is not given leaves all parts in.
func (r Rig) At(day Date) Rig {
	copied := copyOf(reflect.ValueOf(r)).Interface().(Rig)
	if day.Given() {
		prune(reflect.ValueOf(&copied).Elem(), document, day)
	}
	return copied
}

// there tells whether a part with such dates is in the rig on a day.
func (d Dates) there(day Date) bool {
	gone := d.Removed.Given() && !day.Before(d.Removed)
	return !day.Before(d.Fitted) && !gone
}

// beside tells whether there can be a day on which two parts are both in the rig.
func (d Dates) beside(o Dates) bool {
	after := func(a, b Dates) bool { return a.Removed.Given() && b.Fitted.Given() && !b.Fitted.Before(a.Removed) }
	return !after(d, o) && !after(o, d)
}

// present tells whether a part, the groups inside it not counted, is in the rig on a day.
func present(v reflect.Value, day Date) bool {
	for i := range v.NumField() {
		if dates, ok := v.Field(i).Interface().(Dates); ok && !dates.there(day) {
			return false
		}
	}
	return true
}

// prune takes out what is not there on a day.
func prune(v reflect.Value, s *shape, day Date) {
	for i := range s.fields {
		f := &s.fields[i]
		x := f.at(v)
		switch f.form {
		case formGroup:
			if x.Kind() == reflect.Pointer {
				if x.IsNil() {
					continue
				}
				if !present(x.Elem(), day) {
					x.SetZero()
					continue
				}
				x = x.Elem()
			}
			prune(x, f.shape, day)
		case formList, formNamed:
			kept := reflect.MakeSlice(x.Type(), 0, x.Len())
			for j := range x.Len() {
				m := x.Index(j)
				if link, ok := m.Interface().(Link); ok && link.DCDC != nil && !link.DCDC.there(day) {
					continue
				}
				if present(m, day) {
					prune(m, f.shape, day)
					kept = reflect.Append(kept, m)
				}
			}
			if !x.IsNil() {
				x.Set(kept)
			}
		}
	}
}

// Clone returns a rig that shares nothing with r.
func (r Rig) Clone() Rig { return copyOf(reflect.ValueOf(r)).Interface().(Rig) }

// copyOf copies a value with everything it points to.
func copyOf(v reflect.Value) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			out.Set(reflect.New(v.Type().Elem()))
			out.Elem().Set(copyOf(v.Elem()))
		}
	case reflect.Slice:
		if !v.IsNil() {
			out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
			for i := range v.Len() {
				out.Index(i).Set(copyOf(v.Index(i)))
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			out.Field(i).Set(copyOf(v.Field(i)))
		}
	default:
		out.Set(v)
	}
	return out
}
