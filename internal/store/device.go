package store

import (
	"context"
	"database/sql"
	"errors"

	"vatside/internal/device"
)

// Devices returns the store as package device takes it.
func (s *Store) Devices() device.Store { return devices{s} }

type devices struct{ s *Store }

// Devices lists devices, those paired last first.
func (d devices) Devices(ctx context.Context) (list []device.Device, err error) {
	err = d.s.Read(ctx, func(t *Tx) error { list, err = t.devices(ctx); return err })
	return list, err
}

func (t *Tx) devices(ctx context.Context) ([]device.Device, error) {
	return collect(ctx, t, func(rows *sql.Rows) (one device.Device, err error) {
		err = rows.Scan(&one.ID, &one.Name, &one.Hash, timeColumn{&one.Paired}, timeColumn{&one.Seen})
		return one, err
	}, `SELECT id, name, key_hash, paired_at, seen_at FROM device ORDER BY paired_at DESC, id`)
}

// PutDevice writes a device in place of the entry before.
func (d devices) PutDevice(ctx context.Context, one device.Device) error {
	return d.s.Write(ctx, func(t *Tx) error { return t.putDevice(ctx, one) })
}

func (t *Tx) putDevice(ctx context.Context, one device.Device) error {
	return t.exec(ctx, `INSERT INTO device (id, name, key_hash, paired_at, seen_at) VALUES ($1, $2, $3, $4, $5)
		ON CONFLICT (id) DO UPDATE SET name = excluded.name, seen_at = excluded.seen_at`,
		one.ID, one.Name, one.Hash, second(one.Paired), second(one.Seen))
}

// Forget takes a device away; without an id all of them.
func (d devices) Forget(ctx context.Context, id string) error {
	return d.s.Write(ctx, func(t *Tx) error { return t.exec(ctx, `DELETE FROM device WHERE $1 IN ('', id)`, id) })
}

// Switch returns how the way in was left; off, where it was never touched.
func (d devices) Switch(ctx context.Context) (left device.Switch, err error) {
	err = d.s.Read(ctx, func(t *Tx) error { left, err = t.deviceSwitch(ctx); return err })
	return left, err
}

func (t *Tx) deviceSwitch(ctx context.Context) (device.Switch, error) {
	list, err := collect(ctx, t, func(rows *sql.Rows) (one device.Switch, err error) {
		err = rows.Scan(&one.AtStart, &one.SecurePort)
		return one, err
	}, `SELECT at_start, secure_port FROM device_switch`)
	if err != nil || len(list) == 0 {
		return device.Switch{}, err
	}
	return list[0], nil
}

// PutSwitch keeps how the way in was left.
func (d devices) PutSwitch(ctx context.Context, left device.Switch) error {
	return d.s.Write(ctx, func(t *Tx) error { return t.putDeviceSwitch(ctx, left) })
}

func (t *Tx) putDeviceSwitch(ctx context.Context, left device.Switch) error {
	return t.exec(ctx, `INSERT INTO device_switch (id, at_start, secure_port) VALUES (1, $1, $2)
		ON CONFLICT (id) DO UPDATE SET at_start = excluded.at_start, secure_port = excluded.secure_port`, left.AtStart, left.SecurePort)
}

// carryDevices gives the file at a path, which is to take the place of this one,
// the devices of this one: going back to a copy must not let in again who was
// revoked since, nor open the way in that was closed.
func (s *Store) carryDevices(ctx context.Context, to string) error {
	tx, err := s.r.BeginTx(ctx, nil)
	if err != nil {
		return storageFault(err, "the devices could not be read")
	}
	defer tx.Rollback() //nolint:errcheck // it only read
	here := &Tx{tx: tx}
	list, err := here.devices(ctx)
	if err != nil {
		return err
	}
	left, err := here.deviceSwitch(ctx)
	if err != nil {
		return err
	}
	other, err := Open(ctx, to)
	if err != nil {
		return err
	}
	err = other.Write(ctx, func(t *Tx) error {
		if err := t.exec(ctx, `DELETE FROM device`); err != nil {
			return err
		}
		for _, one := range list {
			if err := t.putDevice(ctx, one); err != nil {
				return err
			}
		}
		return t.putDeviceSwitch(ctx, left)
	})
	return errors.Join(err, other.Close())
}
