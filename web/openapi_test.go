package web

import (
	"bytes"
	"encoding/json"
	"flag"
	"net/http"
	"os"
	"testing"
)

var update = flag.Bool("update", false, "write the OpenAPI document anew")

// TestOpenAPIIsUpToDate holds openapi.json, from which the page's types are made, against the operations.
func TestOpenAPIIsUpToDate(t *testing.T) {
	api := newTestServer(t, exampleRig(t)).operations(http.NewServeMux())
	if n := len(api.OpenAPI().Paths); n < 4 {
		t.Fatalf("only %d paths: the operations were not registered", n)
	}
	compact, err := api.OpenAPI().MarshalJSON()
	if err != nil {
		t.Fatal(err)
	}
	var want bytes.Buffer
	if err := json.Indent(&want, compact, "", "  "); err != nil {
		t.Fatal(err)
	}
	want.WriteByte('\n')
	if *update {
		if err := os.WriteFile("openapi.json", want.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile("openapi.json")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want.Bytes()) {
		t.Fatal("openapi.json is not what the operations say; run go generate ./web")
	}
}
