#!/bin/sh
# Run by the service manager in the place of the daemon, with the rights of the
# unit: tells what those rights are worth, a line for each.
# shellcheck disable=SC2016 # perl's own variables
set -u

case $(uname -m) in # the numbers of adjtimex, clock_settime and mmap
aarch64) adjtimex=171 settime=112 mmap=222 ;;
*) adjtimex=159 settime=227 mmap=9 ;;
esac

tell() { # NAME COMMAND...: whether it can be done
	name=$1
	shift
	if "$@" >/dev/null 2>&1; then echo "$name yes"; else echo "$name no"; fi
}

tell "write state" touch "$STATE_DIRECTORY/inside"
rm -f "$STATE_DIRECTORY/inside"
tell "read farm file" cat "$CONFIGURATION_DIRECTORY/farm.yaml"
tell "write farm file" sh -c 'echo >>"$CONFIGURATION_DIRECTORY/farm.yaml"'
tell "write program" touch /usr/bin/stubbled
tell "write temporary file" touch /tmp/inside
tell "see others' temporary files" ls /tmp/outside
tell "see homes" ls /home/somebody
tell "read where secrets lie" cat /etc/credstore/stubbled.mail-password
tell "read own secret" grep -q opensesame "$CREDENTIALS_DIRECTORY/mail-password"
tell "see other processes" ls /proc/1/cmdline
tell "become root" setpriv --reuid=0 --clear-groups true
tell "open raw socket" perl -e 'socket(my $s, 2, 3, 1) or exit 1'
tell "open network socket" perl -e 'socket(my $s, 2, 1, 6) or exit 1'
tell "open netlink socket" perl -e 'socket(my $s, 16, 3, 0) or exit 1'
tell "make namespace" unshare -U true
tell "mount" mount -t tmpfs none /mnt
tell "ask how sure the clock is" perl -e 'my $b = "\0" x 512; exit(syscall($ARGV[0], $b) < 0)' "$adjtimex"
tell "set clock" perl -e 'my $b = pack("qq", 0, 0); exit(syscall($ARGV[0], 0, $b) < 0)' "$settime"
tell "see a disk" sh -c 'ls /dev/[sv]da'
tell "write and run memory" perl -e 'exit(syscall($ARGV[0], 0, 4096, 7, 34, -1, 0) < 0)' "$mmap"
