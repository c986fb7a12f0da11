#!/bin/bash
# Starts the service manager of a machine that is this one with a disk of its
# own: a copy-on-write view of the root file system. It runs as process 1 of new
# PID, mount, network, IPC and UTS namespaces and a new control group namespace.
# Nothing that happens inside reaches this machine.
#
#   boot.sh WORK PACKAGES
#
# WORK: a folder for the disk, in memory; what was written there is found again
# when it is started a second time. PACKAGES: seen inside as /packages.
set -eu

work=$1
packages=$2
root=$work/root

mount --make-rprivate /
first=
[ -d "$root" ] || first=yes
mkdir -p "$work/upper" "$work/scratch" "$root"
mount -t overlay -o "lowerdir=/,upperdir=$work/upper,workdir=$work/scratch" farm "$root"

mount -t proc proc "$root/proc"
# The kernel is shared with this machine: its settings are to look at only.
mount --bind "$root/proc/sys" "$root/proc/sys"
mount -o remount,bind,ro "$root/proc/sys"
mount -t sysfs -o ro sysfs "$root/sys"
mount -t tmpfs -o mode=755 cgroup "$root/sys/fs/cgroup"
mount -t cgroup2 cgroup "$root/sys/fs/cgroup"

mount -t tmpfs -o mode=755 dev "$root/dev"
for node in null:3 zero:5 full:7 random:8 urandom:9; do
	mknod -m 666 "$root/dev/${node%:*}" c 1 "${node#*:}"
done
mknod -m 666 "$root/dev/tty" c 5 0
mkdir "$root/dev/pts" "$root/dev/shm"
mount -t devpts -o newinstance,ptmxmode=0666 devpts "$root/dev/pts"
ln -s pts/ptmx "$root/dev/ptmx"
ln -s /proc/self/fd "$root/dev/fd"
mount -t tmpfs shm "$root/dev/shm"
mount -t tmpfs -o mode=755 run "$root/run"
mount -t tmpfs -o mode=1777 tmp "$root/tmp"

if [ -n "$first" ]; then
	mkdir "$root/packages"
	# Service scripts of packages act here, whatever this machine forbids; and only
	# what is enabled in there is started.
	rm -f "$root/usr/sbin/policy-rc.d" "$root"/etc/systemd/system/*.wants/* "$root"/etc/rc?.d/*
	# The index of the man pages takes longer than an installation and is not used.
	rm -f "$root/var/lib/man-db/auto-update"
	# What was installed on this machine by hand is not installed in there.
	rm -rf "$root"/etc/stubbled* "$root"/var/lib/stubbled* "$root"/var/spool/stubbled*
fi
mount --bind "$packages" "$root/packages"
ip link set lo up || true
hostname farm

cd "$root"
mkdir -p .before
pivot_root . .before
umount -l /.before
rmdir /.before
# As the service manager has it where the kernel starts it; secrets reach a
# service over such mounts.
mount --make-rshared /
exec env -i container=farm PATH=/usr/sbin:/usr/bin:/sbin:/bin \
	/lib/systemd/systemd --system --unit=multi-user.target --log-target=journal
