package page

import (
	"fmt"
	"html/template"
	"net/http"
	"net/http/httptest"
	"slices"
	"testing"
	"time"
)

// kept are the latencies of the last so many requests.
func quantiles(b *testing.B, took []time.Duration) {
	slices.Sort(took)
	at := func(u float64) float64 {
		return float64(took[min(len(took)-1, int(u*float64(len(took))))].Microseconds())
	}
	b.ReportMetric(at(0.5), "p50-µs")
	b.ReportMetric(at(0.99), "p99-µs")
}

// sink is a writer that only counts.
type sink struct {
	h http.Header
	n int
}

func (s *sink) Header() http.Header         { return s.h }
func (s *sink) Write(b []byte) (int, error) { s.n += len(b); return len(b), nil }
func (s *sink) WriteHeader(int)             {}

func serveOnce(b *testing.B, h http.Handler, at string) int {
	r := httptest.NewRequest(http.MethodGet, at, nil)
	r.Host, r.RemoteAddr = "127.0.0.1:8000", "127.0.0.1:51000"
	w := &sink{h: http.Header{}}
	h.ServeHTTP(w, r)
	if w.n == 0 {
		b.Fatal("nothing was sent")
	}
	return w.n
}

// BenchmarkPages takes the server's time for each kind of page, as it is asked
// again and again, and its size.
func BenchmarkPages(b *testing.B) {
	h := newSite(b).Handler(here)
	for _, at := range flow {
		b.Run(at, func(b *testing.B) {
			b.ReportAllocs()
			var took []time.Duration
			size := 0
			for b.Loop() {
				start := time.Now()
				size = serveOnce(b, h, at)
				took = append(took, time.Since(start))
			}
			quantiles(b, took)
			b.ReportMetric(float64(size), "bytes")
		})
	}
}

// BenchmarkPagesFirst is the same where nothing is remembered yet.
func BenchmarkPagesFirst(b *testing.B) {
	s := newSite(b)
	h := s.Handler(here)
	for _, at := range flow {
		b.Run(at, func(b *testing.B) {
			var took []time.Duration
			for b.Loop() {
				s.shared().Forget()
				start := time.Now()
				serveOnce(b, h, at)
				took = append(took, time.Since(start))
			}
			quantiles(b, took)
		})
	}
}

// BenchmarkUnknown is an address that there is none of, another each time: it should
// cost no more than a small page does.
func BenchmarkUnknown(b *testing.B) {
	h := newSite(b).Handler(here)
	for _, at := range []string{"/nosuch-%d", "/cloth/nosuch-%d"} {
		b.Run(at, func(b *testing.B) {
			n := 0
			for b.Loop() {
				n++
				serveOnce(b, h, fmt.Sprintf(at, n))
			}
		})
	}
}

// BenchmarkBare is net/http with a template that writes as many bytes as a
// page, and works nothing out: what the pages are held against.
func BenchmarkBare(b *testing.B) {
	t := template.Must(template.New("").Parse(`<!doctype html><html lang="en"><title>{{.Title}}</title><ul>{{range .Rows}}<li class="{{.Class}}"><a href="/cloth/{{.ID}}">{{.Name}}</a> {{.Say}}</li>
{{end}}</ul></html>`))
	type row struct{ Class, ID, Name, Say string }
	for _, size := range []int{10_000, 50_000} {
		var rows []row
		for i := 0; len(rows)*125 < size; i++ {
			rows = append(rows, row{"found", fmt.Sprintf("cloth-%d", i), fmt.Sprintf("cloth number %d", i), "a sentence as long as most that describe a cloth"})
		}
		mux := http.NewServeMux()
		mux.HandleFunc("GET /{$}", func(w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
			_ = t.Execute(w, map[string]any{"Title": "bare", "Rows": rows})
		})
		b.Run(fmt.Sprint(size), func(b *testing.B) {
			b.ReportAllocs()
			var took []time.Duration
			size := 0
			for b.Loop() {
				start := time.Now()
				size = serveOnce(b, mux, "/")
				took = append(took, time.Since(start))
			}
			quantiles(b, took)
			b.ReportMetric(float64(size), "bytes")
		})
	}
}

// BenchmarkColdStart is from nothing to the first page: the knowledge is read,
// the site made, the page written.
func BenchmarkColdStart(b *testing.B) {
	for b.Loop() {
		s := coldSite(b)
		serveOnce(b, s.Handler(here), "/")
	}
}

// BenchmarkOwn is the pages that speak of the user's swatches, where there are
// 5,000 of them, all weighed and drooped.
func BenchmarkOwn(b *testing.B) {
	s, _ := ownSite(b)
	h := s.Handler(here)
	preview := sendFile(s, h, "/swatches/import", "all.csv", manySwatches(5000)).Header.Get("Location")
	if res := post(s, h, preview, "do", "keep"); res.StatusCode != http.StatusSeeOther {
		b.Fatal(res.Status)
	}
	for _, at := range []string{"/swatches", "/swatches?q=red", "/swatch/swatch%207", "/map", "/cloth/cotton-sateen", "/make?piece=cowl&finish=single-layer-hem",
		"/make?piece=cowl&finish=single-layer-hem&own=yes", "/check?shell=swatch+7&piece=cowl"} {
		for _, first := range []bool{true, false} {
			name := at + " again"
			if first {
				name = at + " first"
			}
			b.Run(name, func(b *testing.B) {
				var took []time.Duration
				for b.Loop() {
					if first {
						s.shared().Forget()
					}
					start := time.Now()
					serveOnce(b, h, at)
					took = append(took, time.Since(start))
				}
				quantiles(b, took)
			})
		}
	}
}
