// Package spring is in charge of the months that have no deadline yet: when ground
// may be begun after winter, when animals in it move on, whether it will have at
// its cutoff what it must leave, and what last fall's rest was worth.
//
// It is pure: looks at paddocks go in, values come out.
package spring
