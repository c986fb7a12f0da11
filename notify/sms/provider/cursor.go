package provider

import "slices"

// inOrder puts items in the order in which they were sent, where they all say
// when; services list the newest first or last.
func inOrder(items []item) []item {
	if slices.ContainsFunc(items, func(it item) bool { return it.at.IsZero() && !it.skip }) {
		return items
	}
	slices.SortStableFunc(items, func(a, b item) int { return a.at.Compare(b.at) })
	return items
}

// newest is the cursor behind the items: the id of the one sent last. Where
// more is to come than could be read, or the order is unknown, the old one
// stays, and what is read again is known by its id.
func newest(items []item, old string, whole bool) string {
	if !whole {
		return old
	}
	for _, it := range slices.Backward(items) {
		if it.id != "" {
			return it.id
		}
	}
	return old
}

// ascending reports whether a service lists the oldest first, so that what was
// not read yet is newer than what was.
func ascending(items []item) bool {
	if len(items) < 2 || slices.ContainsFunc(items, func(it item) bool { return it.at.IsZero() }) {
		return false
	}
	return items[0].at.Before(items[len(items)-1].at) &&
		slices.IsSortedFunc(items, func(a, b item) int { return a.at.Compare(b.at) })
}
