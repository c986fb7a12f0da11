// Package picture draws what a mail or a report shows and writes the calendar
// file.
//
// It is in charge of how things look: it draws values that others computed. It
// never decides, never reads a clock or a file, and never sends anything.
//
// What always holds: a chart says the same in black and white as in color, its
// letters can be read on a phone, and the same values make the same bytes.
package picture
