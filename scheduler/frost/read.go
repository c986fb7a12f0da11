package frost

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"os"

	"golang.org/x/text/encoding/unicode"
)

// longestLine bounds a line. A .dly line has 269 characters, a USCRN line 216.
const longestLine = 64 << 10

// longestRecord bounds what an archive may hold: 250 years of 35 elements, more
// than any station has, are 28 MB of .dly (270 bytes a month and element).
const longestRecord = 32 << 20

var errEndless = errors.New("the archive holds more than 32 MiB, and no station's record does; fetch it again")

// hopeless is how many lines may be unreadable before a file that holds no
// more good ones than bad ones is given up.
const hopeless = 200

// ErrNoFile is what is there but is no file to read: a pipe or a device would
// never end.
var ErrNoFile = errors.New("it is no file; copy the record into one and name that")

// Open opens a record's file, and refuses what is none.
func Open(path string) (*os.File, error) {
	info, err := os.Stat(path)
	if err == nil && !info.Mode().IsRegular() {
		return nil, &os.PathError{Op: "open", Path: path, Err: ErrNoFile}
	}
	if err != nil {
		return nil, err
	}
	return os.Open(path)
}

// ReadFile reads a station's record from a file, gzipped or not.
func ReadFile(path string, opt Options) (*Record, error) {
	f, err := Open(path)
	if err != nil {
		return nil, fmt.Errorf("station record: %w", err)
	}
	defer f.Close()
	return Read(path, f, opt)
}

// Read reads a station's record from a stream, gzipped or not, in one pass and
// in memory that does not grow with its length. The name is for messages.
//
// A line that cannot be read is left out, counted, and the first few are named
// in [Record.Problems]. An error, with file, line and the mend, comes of two
// stations in one file, of a file of which most lines cannot be read, of a
// broken archive, and of a file without one usable minimum.
func Read(name string, from io.Reader, opt Options) (*Record, error) {
	in, bounded := bufio.NewReaderSize(from, longestLine), &io.LimitedReader{N: longestRecord}
	if head, _ := in.Peek(2); bytes.Equal(head, []byte{0x1f, 0x8b}) {
		unzipped, err := gzip.NewReader(in)
		if err != nil {
			return nil, fmt.Errorf("%s: broken gzip archive: %w; fetch it again", name, err)
		}
		bounded.R = unzipped
		in = bufio.NewReaderSize(bounded, longestLine)
	}
	switch head, _ := in.Peek(3); {
	case bytes.Equal(head, []byte("\xef\xbb\xbf")):
		_, _ = in.Discard(3)
	case bytes.HasPrefix(head, []byte("\xff\xfe")) || bytes.HasPrefix(head, []byte("\xfe\xff")):
		utf16 := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)
		in = bufio.NewReaderSize(utf16.NewDecoder().Reader(in), longestLine)
	}
	head, err := in.Peek(longestLine)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, readError(name, 1, err)
	}
	rd := &reader{rec: &Record{Name: name}, opt: opt}
	rd.rec.Format = opt.Format
	if opt.Format == AnyFormat {
		rd.rec.Format = sniff(head, opt.Columns)
	}
	if rd.rec.Format == AnyFormat {
		return nil, unknownFormat(name, head)
	}
	if err := rd.lines(in); err != nil {
		return nil, err
	}
	if bounded.N <= 0 {
		return nil, readError(name, rd.line, errEndless)
	}
	if err := rd.tellUnit(); err != nil {
		return nil, err
	}
	if err := rd.finish(); err != nil {
		return nil, err
	}
	return rd.rec, nil
}

// reader is the state of one pass through a file.
type reader struct {
	rec *Record
	opt Options

	line    int // number of the line at hand, from 1
	good    int // lines that could be read
	blank   int
	csv     *csvLayout
	memo    memo
	inverse int    // days with the minimum above the maximum
	both    int    // days with both
	hourly  int    // rows of the same day as the row before
	before  dayRow // that row
	fatal   error
}

func (rd *reader) lines(in *bufio.Reader) error {
	take := rd.parser()
	for {
		line, err := in.ReadSlice('\n')
		rd.line++
		if err == bufio.ErrBufferFull {
			return fmt.Errorf("%s:%d: no line end within %d KiB; this is no daily record, or its line ends are not those of Unix or Windows", rd.rec.Name, rd.line, longestLine>>10)
		}
		if n := len(line); n > 0 && line[n-1] == '\n' {
			line = line[:n-1]
		}
		if n := len(line); n > 0 && line[n-1] == '\r' {
			line = line[:n-1]
		}
		if len(line) > 0 {
			take(line)
		} else if err == nil {
			rd.blank++
		}
		if rd.fatal != nil {
			return rd.fatal
		}
		if lost := rd.rec.Problems.BadLines + rd.blank; lost > hopeless && lost > rd.good {
			return rd.hopeless()
		}
		switch err {
		case nil:
		case io.EOF:
			return nil
		default:
			return readError(rd.rec.Name, rd.line, err)
		}
	}
}

// parser is the function that takes one line of the format at hand.
func (rd *reader) parser() func([]byte) {
	switch rd.rec.Format {
	case GHCNDaily:
		return rd.dlyLine
	case GHCNByStation:
		return rd.byStationLine
	case USCRNDaily:
		return rd.uscrnLine
	}
	return rd.csvLine
}

// bad counts the line at hand as unreadable.
func (rd *reader) bad(format string, args ...any) {
	rd.rec.Problems.BadLines++
	rd.rec.Problems.name(rd.line, format, args...)
}

// stop ends the reading with an error at the line at hand.
func (rd *reader) stop(format string, args ...any) {
	rd.fatal = fmt.Errorf("%s:%d: "+format, append([]any{rd.rec.Name, rd.line}, args...)...)
}

// sameStation says whether the id is that of the lines before, and stops the
// reading where it is another.
func (rd *reader) sameStation(id []byte) bool {
	switch {
	case string(id) == rd.rec.Station:
		return true
	case rd.rec.Station == "":
		rd.rec.Station = string(id)
		return true
	}
	rd.stop("station %q after station %q: a record is of one station; split the file", clip(id), rd.rec.Station)
	return false
}

func (rd *reader) hopeless() error {
	p := rd.rec.Problems
	why := fmt.Sprintf("%d blank lines", rd.blank)
	if len(p.Named) > 0 {
		why = fmt.Sprintf("first at line %d: %s", p.Named[0].Line, p.Named[0].Text)
	}
	return fmt.Errorf("%s:%d: given up: %d of %d lines cannot be read as %s (%s); is it the right file, whole?",
		rd.rec.Name, rd.line, p.BadLines+rd.blank, rd.line, rd.rec.Format, why)
}

// finish judges the record as a whole.
func (rd *reader) finish() error {
	r := rd.rec
	if rd.both >= 10 && rd.inverse*2 > rd.both {
		return fmt.Errorf("%s: the minimum is above the maximum on %d of %d days; are the two columns swapped?", r.Name, rd.inverse, rd.both)
	}
	if rd.hourly > rd.good/2 {
		return fmt.Errorf("%s: %d of %d rows are of the same day as the row before: is it by the hour? want a row a day, with the day's minimum", r.Name, rd.hourly, rd.good)
	}
	if r.First().IsZero() {
		why := "none was found"
		if r.Problems.Count() > 0 {
			why = r.Problems.Lines(r.Name)[0]
		} else if r.Problems.Flagged > 0 {
			why = "all failed the station's own quality check"
		}
		return fmt.Errorf("%s: no usable daily minimum in this %s file (%s)", r.Name, r.Format, why)
	}
	return nil
}

func readError(name string, line int, err error) error {
	if errors.Is(err, io.ErrUnexpectedEOF) {
		return fmt.Errorf("%s:%d: the gzip archive is cut short: %w; fetch it again", name, line, err)
	}
	return fmt.Errorf("%s:%d: %w", name, line, err)
}

// unknownFormat says what a file seems to be instead.
func unknownFormat(name string, head []byte) error {
	first, _, _ := bytes.Cut(bytes.TrimLeft(head, " \t\r\n"), []byte{'\n'})
	seems := fmt.Sprintf("it begins with %q", clip(first))
	switch {
	case len(bytes.TrimSpace(head)) == 0:
		seems = "it is empty"
	case isSpreadsheet(head):
		seems = "it is a spreadsheet; open it there and save it as CSV (in the menu: File, Save As, type CSV)"
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		seems = "it is a zip archive; unpack it, or gzip the record inside"
	case len(first) > 0 && first[0] == '<':
		seems = "it is a web page or XML; fetch the data file itself"
	}
	return fmt.Errorf("%s:1: no daily record known here: %s; want GHCN-Daily .dly, USCRN daily01, or CSV with a header such as date,tmin_c", name, seems)
}

// isSpreadsheet knows the files of spreadsheet programs by what stands near
// their beginning: the old form, and the archives of both newer ones.
func isSpreadsheet(head []byte) bool {
	if bytes.HasPrefix(head, []byte("\xd0\xcf\x11\xe0")) {
		return true
	}
	return bytes.HasPrefix(head, []byte("PK\x03\x04")) &&
		(bytes.Contains(head, []byte("opendocument.spreadsheet")) || bytes.Contains(head, []byte("[Content_Types].xml")) || bytes.Contains(head, []byte("xl/")))
}

func clip(b []byte) string {
	const most = 60
	if b = bytes.TrimRight(b, "\r\n"); len(b) > most {
		return string(b[:most]) + "..."
	}
	return string(b)
}
