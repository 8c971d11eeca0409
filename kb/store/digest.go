package store

import (
	"database/sql"
	"database/sql/driver"
	"encoding/binary"
	"fmt"
	"hash/crc64"
	"math"
	"slices"

	"modernc.org/sqlite"

	"tenter/kb/written"
)

// Each row holds a digest of all that stands in it. SQLite notices a page that is
// out of order, but not a letter or a figure that a failing disk changed inside a
// row; the digest does. It is reckoned by SQLite itself, through one function, so
// that a single row, an import and a check reckon it alike.

// digested are the columns that the digest of a row covers, by table.
var digested = map[string]string{
	"note":        "id, kind, subject, text, created, changed",
	"favourite":   "id, kind, subject, created",
	"swatch":      "id, name, name_key, sold_as, content, width_cm, length_cm, colour, lightness, price, kept_where, picture_path, bought, notes, created, changed",
	"measurement": "id, swatch_id, kind, taken_at, readings, note, removed",
	"wear":        "id, make_up, verdict, said, at",
	"setting":     "id, key, value",
}

// searched are the texts of a swatch that the search reads, as [written.Run] runs them
// together in the column of that name.
const searched = "name, sold_as, content, colour, lightness, kept_where, notes"

// layoutWithDigests is the first layout that has them.
const layoutWithDigests = 3

func init() {
	sqlite.MustRegisterDeterministicScalarFunction("row_digest", -1, func(_ *sqlite.FunctionContext, columns []driver.Value) (driver.Value, error) {
		return rowDigest(columns)
	})
	sqlite.MustRegisterDeterministicScalarFunction("plain_run", -1, func(_ *sqlite.FunctionContext, columns []driver.Value) (driver.Value, error) {
		texts := make([]string, len(columns))
		for i, c := range columns {
			texts[i], _ = c.(string)
		}
		return written.Run(texts...), nil
	})
}

var polynomial = crc64.MakeTable(crc64.ECMA)

// rowDigest is a checksum over the kind, the length and the bytes of each column.
func rowDigest(columns []driver.Value) (int64, error) {
	var b []byte
	text := func(sign byte, s string) {
		b = binary.AppendUvarint(append(b, sign), uint64(len(s)))
		b = append(b, s...)
	}
	for _, v := range columns {
		switch v := v.(type) {
		case nil:
			b = append(b, 'n')
		case int64:
			b = binary.LittleEndian.AppendUint64(append(b, 'i'), uint64(v))
		case float64:
			b = binary.LittleEndian.AppendUint64(append(b, 'f'), math.Float64bits(v))
		case string:
			text('s', v)
		case []byte:
			text('b', string(v))
		default:
			return 0, fmt.Errorf("row_digest of a %T", v)
		}
	}
	return int64(crc64.Checksum(b, polynomial)), nil
}

// seal writes what is reckoned from the other columns of the rows from one number to
// another: the digest, and of a swatch what the search reads.
func seal(x execer, table string, from, to int64) error {
	set := digestOf(table)
	if table == "swatch" {
		set += ", " + setPlain
	}
	_, err := x.Exec("update "+table+" set "+set+" where id between ? and ?", from, to)
	return err
}

// execer is a transaction.
type execer interface {
	Exec(string, ...any) (sql.Result, error)
}

func digestOf(table string) string { return "digest = row_digest(" + digested[table] + ")" }

const setPlain = "plain = plain_run(" + searched + ")"

// sealAll gives every row its digest.
func sealAll(tx *sql.Tx) error {
	for table := range digested {
		if _, err := tx.Exec("update " + table + " set " + digestOf(table)); err != nil {
			return err
		}
	}
	return nil
}

// maxDamaged is how many damaged rows of a table are told one by one.
const maxDamaged = 20

// damagedRows tells which rows do not hold what was written into them.
func damagedRows(db *sql.DB) ([]string, error) {
	var version int
	if err := db.QueryRow("pragma user_version").Scan(&version); err != nil || version < layoutWithDigests {
		return nil, err
	}
	var out []string
	var tables []string
	for t := range digested {
		tables = append(tables, t)
	}
	slices.Sort(tables)
	for _, t := range tables {
		wrong := "digest <> row_digest(" + digested[t] + ")"
		if t == "swatch" && version > layoutWithDigests {
			wrong += " or plain <> plain_run(" + searched + ")"
		}
		found, err := lines(db, fmt.Sprintf("select '%[1]s ' || id || ' is damaged: it does not hold what was written' from %[1]s where %[2]s order by id limit %[3]d", t, wrong, maxDamaged))
		if err != nil {
			if code(err) == codeCorrupt { // told by the check of the pages
				continue
			}
			return out, err
		}
		out = append(out, found...)
	}
	return out, nil
}
