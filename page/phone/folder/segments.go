//go:build !js

package folder

import "encoding/binary"

// The parts of a WebAssembly module that are read here: its head, the number of the
// section of data, and how a segment of data begins: "at this place of the memory".
const (
	headBytes   = 8
	dataSection = 11
	active      = 0x00
	constant    = 0x41
	end         = 0x0b
)

// joinAcross is how many zeros between two segments are written out rather than left
// out: each cut costs an address, which no packer shortens.
const joinAcross = 64

// joined gives a module with its data in few segments. Go's linker cuts the data at every
// run of zeros, 100,000 times, and the addresses of the cuts were a twentieth of what a
// phone fetches. A module of a form that is not known here stays as it is.
func joined(module []byte) []byte {
	if len(module) < headBytes {
		return module
	}
	out := append([]byte{}, module[:headBytes]...)
	for rest := module[headBytes:]; len(rest) > 0; {
		id := rest[0]
		size, after, ok := number(rest[1:])
		if !ok || size > uint64(len(after)) {
			return module
		}
		body := after[:size]
		if id == dataSection {
			all, ok := segments(body)
			if !ok {
				return module
			}
			body = written(join(all))
		}
		out = append(binary.AppendUvarint(append(out, id), uint64(len(body))), body...)
		rest = after[size:]
	}
	return out
}

// segment is data and its place in the memory.
type segment struct {
	at   uint64
	data []byte
}

func (s segment) end() uint64 { return s.at + uint64(len(s.data)) }

func segments(body []byte) (out []segment, ok bool) {
	count, body, ok := number(body)
	for ; ok && count > 0; count-- {
		if len(body) < 2 || body[0] != active || body[1] != constant {
			return nil, false
		}
		var at, size uint64
		if at, body, ok = number(body[2:]); !ok || len(body) == 0 || body[0] != end {
			return nil, false
		}
		if size, body, ok = number(body[1:]); !ok || size > uint64(len(body)) {
			return nil, false
		}
		out = append(out, segment{at, body[:size]})
		body = body[size:]
	}
	return out, ok && len(body) == 0
}

// join takes neighbours together, in the order in which they are.
func join(all []segment) (out []segment) {
	for _, s := range all {
		if n := len(out) - 1; n >= 0 && s.at >= out[n].end() && s.at-out[n].end() <= joinAcross {
			out[n].data = append(append(out[n].data, make([]byte, s.at-out[n].end())...), s.data...)
			continue
		}
		out = append(out, segment{s.at, append([]byte{}, s.data...)})
	}
	return out
}

func written(all []segment) []byte {
	out := binary.AppendUvarint(nil, uint64(len(all)))
	for _, s := range all {
		out = binary.AppendUvarint(append(out, active, constant), s.at)
		if last := len(out) - 1; out[last]&0x40 != 0 { // a constant has a sign, which would be minus here
			out[last] |= 0x80
			out = append(out, 0)
		}
		out = append(binary.AppendUvarint(append(out, end), uint64(len(s.data))), s.data...)
	}
	return out
}

// number reads a number of the module and gives what follows it.
func number(b []byte) (n uint64, rest []byte, ok bool) {
	n, used := binary.Uvarint(b)
	if used <= 0 {
		return 0, nil, false
	}
	return n, b[used:], true
}
