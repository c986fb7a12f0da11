package daemon

import (
	"strings"

	systemd "github.com/coreos/go-systemd/v22/daemon"
)

// What the service manager is told. Outside of a service nobody listens.

// tellReady says that the start is over: the first turn was made, or the daemon
// waits for its database and has said so.
func tellReady() { tell(systemd.SdNotifyReady) }

func tellStopping() { tell(systemd.SdNotifyStopping) }

// tellAlive feeds the watchdog.
func tellAlive() { tell(systemd.SdNotifyWatchdog) }

// tellStatus is the line that 'systemctl status' shows.
func tellStatus(line string) { tell("STATUS=" + strings.ReplaceAll(Discreet(line), "\n", "; ")) }

func tell(what string) { _, _ = systemd.SdNotify(false, what) }
