package notify

import (
	"cmp"
	"context"
	"log/slog"
	"math/rand/v2"
	"sync"
	"time"

	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// Outbox is what the courier needs of the store.
type Outbox interface {
	Claim(ctx context.Context, now time.Time, f store.ClaimFor, word func(*Envelope) error) ([]*store.Message, error)
	Going(ctx context.Context, attempt int64, now time.Time) error
	Settle(ctx context.Context, attempt int64, o Outcome, now time.Time) error
	Accept(ctx context.Context, carrier string, got []Received, cursor string, now time.Time) error
	Update(ctx context.Context, now time.Time, decide func(*store.Tx) error) error
}

// Rules are the farm's own, as far as carrying goes.
type Rules struct {
	Farm        string
	Zone        *time.Location
	Contacts    []ladder.Contact
	Cap         int // texts a contact a day, reserve aside; 0 is none
	Centimetres bool
	Stock       bool // the animals are not all cattle
	// Card is the wall card as a page, for the mail ahead of fall; nil: none goes with it.
	Card      func(language string) ([]byte, error)
	WordsOnly bool // no pictures and calendars with mails: a rehearsal shows words
}

// Contact finds one by name.
func (r Rules) Contact(name string) (ladder.Contact, bool) {
	for _, c := range r.Contacts {
		if c.Name == name {
			return c, true
		}
	}
	return ladder.Contact{}, false
}

// A Courier carries between the outbox and the carriers. Drain is its only
// entry out, Accept the only one in.
type Courier struct {
	CourierOptions
	lanes []*lane
	going sync.WaitGroup // every drain of a carrier under way
	mu    sync.RWMutex   // of the rules
}

// CourierOptions is what a courier is made with.
type CourierOptions struct {
	Outbox   Outbox
	Carriers []Carrier
	Rules    Rules
	Logger   *slog.Logger   // nil: none
	Jitter   func() float64 // 0 to 1; nil: random
	// Sure reports whether the clock may be believed; reminders wait while it may
	// not. nil: always.
	Sure func() bool
	// Patience is how long Drain waits for a slow carrier, which goes on by
	// itself after that; 0 is until it is done.
	Patience time.Duration
	// Fails hears that a carrier is in trouble, or with a nil error that it is well
	// again; nil: nobody does.
	Fails func(c Carrier, err error)
}

// NewCourier makes a courier.
func NewCourier(o CourierOptions) *Courier {
	o.Logger = cmp.Or(o.Logger, slog.New(slog.DiscardHandler))
	if o.Jitter == nil {
		o.Jitter = rand.Float64
	}
	if o.Sure == nil {
		o.Sure = func() bool { return true }
	}
	if o.Fails == nil {
		o.Fails = func(Carrier, error) {}
	}
	c := &Courier{CourierOptions: o}
	for _, carrier := range o.Carriers {
		c.lanes = append(c.lanes, &lane{Carrier: carrier})
	}
	return c
}

// Use puts another farm file's rules in force.
func (c *Courier) Use(r Rules) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.Rules = r
}

func (c *Courier) current() Rules {
	c.mu.RLock()
	defer c.mu.RUnlock()
	return c.Rules
}
