// Package chart draws: panels with data coordinates, axes, palette, text that fits, isolines, and a
// figure as SVG, PNG and PDF. It knows no results, and not where a picture is stored. Lengths on the page
// are vg.Length; what a panel shows is in the unit of its axes.
package chart
