package disk

import (
	"errors"
	"io"
	"os"
)

// WriteWhole writes a file so that after a power cut it holds all of it or is as
// it was.
func WriteWhole(name string, data []byte) error {
	temp := name + ".part"
	err := os.WriteFile(temp, data, 0o600)
	if err == nil {
		if err = syncFile(temp); err == nil {
			err = os.Rename(temp, name)
		}
	}
	if err != nil {
		os.Remove(temp)
	}
	return err
}

func exists(name string) bool {
	_, err := os.Stat(name)
	return err == nil
}

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	if err = errors.Join(err, out.Sync(), out.Close()); err != nil {
		os.Remove(to) // half a copy only takes room
	}
	return err
}

func syncFile(name string) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
