package spool

import (
	"log/slog"
	"os"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/fsnotify/fsnotify"
)

// forever is a look by the clock that never comes.
const forever = 24 * time.Hour

// An ear is a spool that is listened to, with its looks and watches counted.
type ear struct {
	*rig
	clock   *clock
	stop    func()
	mu      sync.Mutex
	watches []*fsnotify.Watcher
}

// listenTo receives until the test ends, by watches made of open.
func listenTo(t *testing.T, poll, quiet time.Duration, open func() (*fsnotify.Watcher, error), change ...func(*Options)) *ear {
	t.Helper()
	s, c := newSpool(t, append(change, func(o *Options) { o.Poll = poll })...)
	e := &ear{rig: &rig{Spool: s, t: t, dir: s.o.Dir, in: newInbox()}, clock: c}
	s.quiet = quiet
	s.bell.open = func() (*fsnotify.Watcher, error) {
		w, err := open()
		e.mu.Lock()
		defer e.mu.Unlock()
		e.watches = append(e.watches, w)
		return w, err
	}
	e.stop = e.listen()
	e.until("the first look", func(b *inbox) bool { return len(b.faults) == 1 && b.faults[0] == nil })
	return e
}

// watched is how many watches were made.
func (e *ear) watched() int {
	e.mu.Lock()
	defer e.mu.Unlock()
	return len(e.watches)
}

// text has smsd write one, in place and in pieces as it does.
func (e *ear) text(words string) {
	e.t.Helper()
	f, err := os.Create(e.path("incoming", "GSM1."+words[:2]))
	if err != nil {
		e.t.Fatal(err)
	}
	defer f.Close()
	head, _, _ := strings.Cut(textFile, "creek")
	for _, part := range []string{head[:20], head[20:], words[:4], words[4:]} {
		if _, err := f.WriteString(part); err != nil {
			e.t.Fatal(err)
		}
	}
	e.until("hearing "+words, textOf(words))
}

func TestATextIsHeardAsItComes(t *testing.T) {
	t.Parallel()
	e := listenTo(t, forever, forever, fsnotify.NewWatcher)
	e.text("creek 14 8 6 8")
	e.text("hill 12 9 7 10")
	e.clock.put(t, "To: 15555550142\nStubbled: n1\nMessage_id: 7\n\nhello", e.path("checked", "n1"))
	if err := os.Rename(e.path("checked", "n1"), e.path("sent", "n1")); err != nil {
		t.Fatal(err)
	}
	e.until("the word that n1 is sent", reportFor("n1", false))
}

func TestAWatchThatDiesIsMadeAnew(t *testing.T) {
	t.Parallel()
	e := listenTo(t, forever, forever, fsnotify.NewWatcher)
	e.watches[0].Close()
	e.text("creek 14 8 6 8")
	if n := e.watched(); n != 2 {
		t.Errorf("%d watches were made", n)
	}
}

func TestFoldersThatAreDeletedAndMadeAgainAreHeard(t *testing.T) {
	t.Parallel()
	e := listenTo(t, 10*time.Millisecond, forever, fsnotify.NewWatcher)
	if err := os.RemoveAll(e.path("incoming")); err != nil {
		t.Fatal(err)
	}
	e.until("the word that it is missing", func(b *inbox) bool { return len(b.faults) == 2 && b.faults[1] != nil })
	makeFolders(t, e.dir)
	e.until("the word that it is back", func(b *inbox) bool { return len(b.faults) == 3 && b.faults[2] == nil })
	e.text("creek 14 8 6 8")
	// One that another takes the place of, between two looks.
	if err := os.Rename(e.path("incoming"), e.path("old")); err != nil {
		t.Fatal(err)
	}
	makeFolders(t, e.dir)
	e.text("hill 12 9 7 10")
}

func TestWhereWatchingIsRefusedTheFoldersAreLookedAtOften(t *testing.T) {
	t.Parallel()
	full := func() (*fsnotify.Watcher, error) { return nil, os.NewSyscallError("inotify_init1", syscall.EMFILE) }
	e := listenTo(t, 10*time.Millisecond, forever, full)
	e.text("creek 14 8 6 8")
}

// lines is a log to be read line by line.
type lines chan string

func (l lines) Write(line []byte) (int, error) {
	l <- string(line)
	return len(line), nil
}

// On a network's disk the kernel takes the watch and tells nothing of what
// another machine writes (inotify(7), 'Limitations and caveats').
func TestAWatchThatTellsNothingIsNoLongerTrusted(t *testing.T) {
	t.Parallel()
	silent := func() (*fsnotify.Watcher, error) {
		w, err := fsnotify.NewWatcher()
		if err == nil {
			w.Events = make(chan fsnotify.Event)
		}
		return w, err
	}
	said := make(lines, 10)
	e := listenTo(t, 10*time.Millisecond, 50*time.Millisecond, silent, func(o *Options) { o.Log = slog.New(slog.NewTextHandler(said, nil)) })
	e.text("creek 14 8 6 8")
	for line := range said {
		if strings.Contains(line, "cannot be watched") {
			break
		}
	}
	e.text("hill 12 9 7 10")
}

// A watch that works is never taken for one that does not, also where a text
// comes at the moment of a look by the clock.
func TestAWatchThatTellsIsTrustedHoweverOftenTheClockLooks(t *testing.T) {
	t.Parallel()
	e := listenTo(t, forever, time.Millisecond, fsnotify.NewWatcher)
	for _, words := range []string{"creek 14 8 6 8", "hill 12 9 7 10", "east 12 9 7 10", "west 12 9 7 10"} {
		e.text(words)
	}
	e.stop()
	if e.bell.deaf {
		t.Error("it was called deaf")
	}
}
