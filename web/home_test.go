package web

import (
	"net/http"
	"strings"
	"testing"
)

func TestHome(t *testing.T) {
	v := decoded[HomeView](t, get(newTestServer(t, exampleRig(t)), "/api/home"))
	if v.Sentence == "" || len(v.Months) != 12 || len(v.Drains) == 0 || v.Members < 2 {
		t.Fatalf("sentence %q, %d months, %d drains, %d runs", v.Sentence, len(v.Months), len(v.Drains), v.Members)
	}
	for i, m := range v.Months {
		if m.Lasts == "" || m.Low < 0 || m.Low > 100 || !strings.HasSuffix(m.Used.US, " Wh") || i == 0 && m.Month != "January" {
			t.Errorf("month %+v", m)
		}
	}
	if v.Drains[0].Bar != 1 {
		t.Errorf("drains %+v", v.Drains)
	}
	homeless := newTestServer(t, rigFile(t, "campwright: 1\nname: X\nkind: van\nbank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 100 Ah}}\n"))
	if text := problem(t, get(homeless, "/api/home"), http.StatusUnprocessableEntity); !strings.Contains(text, "no home") {
		t.Errorf("a rig without a home: %q", text)
	}
}
