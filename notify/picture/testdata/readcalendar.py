"""Reads a calendar file from stdin by Debian's python3-icalendar, which had no
part in writing it, and prints what it understood as JSON."""
import json, sys
from datetime import datetime, time
import icalendar

cal = icalendar.Calendar.from_ical(sys.stdin.buffer.read())
out = {"method": str(cal["METHOD"]), "version": str(cal["VERSION"]), "name": str(cal["X-WR-CALNAME"]), "errors": [], "events": []}
for e in cal.walk("VEVENT"):
    out["errors"] += [list(x) for x in e.errors]
    out["events"].append({
        "uid": str(e["UID"]),
        "sequence": int(e["SEQUENCE"]),
        "first": e["DTSTART"].dt.isoformat(),
        "value": e["DTSTART"].params.get("VALUE", ""),
        "end": e["DTEND"].dt.isoformat(),
        "stamp": e["DTSTAMP"].dt.isoformat(),
        "title": str(e["SUMMARY"]),
        "note": str(e.get("DESCRIPTION", "")),
        "status": str(e["STATUS"]),
        "transparent": str(e["TRANSP"]),
        "organizer": str(e.get("ORGANIZER", "")),
        "alarms": [
            "%s %s %s" % (a["ACTION"], datetime.combine(e["DTSTART"].dt, time()) + a["TRIGGER"].dt, a["DESCRIPTION"])
            for a in e.walk("VALARM")
        ],
    })
print(json.dumps(out))
