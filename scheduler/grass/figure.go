package grass

import "stubbled/scheduler/figure"

// Figure is one number of the trade with where it came from.
type Figure = figure.Figure

// Mark says how well a figure is known.
type Mark = figure.Mark
