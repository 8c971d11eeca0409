package store

import (
	"database/sql"
	"fmt"

	"golang.org/x/text/unicode/norm"

	"tenter/kb/record"
)

// Layout 2 took an accent written as a sign of its own for another letter, so that
// one name could stand twice. rekey gives such names the key of today. Where that is
// the key of another swatch, both are kept, the later one under a name of its own;
// what it says is for the user to read.
func rekey(tx *sql.Tx) (notices []string, err error) {
	type named struct {
		id        int64
		name, key string
	}
	rows, err := tx.Query("select id, name, name_key from swatch order by id")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	taken := map[string]bool{}
	var changed []named
	for rows.Next() {
		var n named
		if err := rows.Scan(&n.id, &n.name, &n.key); err != nil {
			return nil, err
		}
		if n.key == record.NameKey(n.name) {
			taken[n.key] = true
		} else {
			changed = append(changed, n)
		}
	}
	if err := rows.Err(); err != nil {
		return nil, err
	}
	for _, n := range changed {
		plain := norm.NFC.String(n.name)
		name := plain
		for i := 2; taken[record.NameKey(name)]; i++ {
			name = fmt.Sprintf("%s (%d)", plain, i)
		}
		if name != plain {
			notices = append(notices, fmt.Sprintf("two swatches were named %q, written with different signs: the later one is now %q", plain, name))
		}
		taken[record.NameKey(name)] = true
		if _, err := tx.Exec("update swatch set name = ?, name_key = ? where id = ?", name, record.NameKey(name), n.id); err != nil {
			return nil, err
		}
	}
	return notices, nil
}
