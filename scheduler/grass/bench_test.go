package grass

import (
	"testing"
	"time"
)

// BenchmarkForecast: mean, range and chance over 150 frost dates, against the
// plainest sum that could answer, one fall after the other with growth laid out
// in 1,000 steps. x-faster is the ratio in the same run.
func BenchmarkForecast(b *testing.B) {
	g := tallPaddock()
	early, late := make([]float64, 150), make([]float64, 150)
	for i := range early {
		early[i] = 800 + float64(i)*200/149
		late[i] = early[i] / 3
	}
	cutoff := Ask{Start: 8, Ahead: early, Target: 18}
	const runs = 20
	began := time.Now()
	for range runs {
		plainChance(g, cutoff)
	}
	plain := float64(time.Since(began).Nanoseconds()) / runs
	for _, c := range []struct {
		name string
		ask  Ask
	}{{"at cutoff", cutoff}, {"two weeks before frost", Ask{Start: 15, Ahead: late, Target: 18}}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				g.Forecast(c.ask)
			}
			each := float64(b.Elapsed().Nanoseconds()) / float64(b.N)
			b.ReportMetric(plain/each, "x-faster")
		})
	}
}

// plainChance is the baseline: the chance alone, on a plain grid.
func plainChance(g Growth, ask Ask) float64 {
	const steps = 1000
	m, sd := g.share()
	sum, weight := 0.0, 0.0
	for _, s := range ask.Ahead {
		for k := range steps {
			z := -5 + 10*(float64(k)+0.5)/steps
			w := phiDen(z)
			sum += w * phiCum((ask.Start+g.G0*s*max(m+z*sd, 0)-ask.Target)/g.Error)
			weight += w
		}
	}
	return sum / weight
}
