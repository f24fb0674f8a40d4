package cli

import (
	"encoding/json"
	"io"

	"campwright/rig"
)

type schemaCmd struct{}

func (schemaCmd) Help() string {
	return "An editor that knows JSON Schema completes and checks a rig file by it. It refuses unknown keys, missing ones and wrong units; references " +
		"between parts and ranges are left to the program.\n\nExample:\n  campwright schema > rig.schema.json"
}

func (schemaCmd) Run(env Env) error { return writeSchema(env.Stdout) }

// writeSchema writes the JSON Schema of the rig file.
func writeSchema(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(rigSchema(rig.Fields()))
}

// entry is one key of an ordered object.
type entry struct {
	key   string
	value any
}

// object is a JSON object whose keys keep their order, so that the schema reads in the order of the rig file.
type object []entry

// MarshalJSON writes the keys in order.
func (o object) MarshalJSON() ([]byte, error) {
	out := []byte{'{'}
	for i, e := range o {
		if i > 0 {
			out = append(out, ',')
		}
		key, err := json.Marshal(e.key)
		if err != nil {
			return nil, err
		}
		value, err := marshalPlain(e.value)
		if err != nil {
			return nil, err
		}
		out = append(append(append(out, key...), ':'), value...)
	}
	return append(out, '}'), nil
}

// marshalPlain is json.Marshal without escapes for signs that mean something in HTML only.
func marshalPlain(v any) ([]byte, error) {
	var b plainBuffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return b, err
}

// plainBuffer collects bytes.
type plainBuffer []byte

// Write adds to the buffer.
func (b *plainBuffer) Write(p []byte) (int, error) {
	*b = append(*b, p...)
	return len(p), nil
}
