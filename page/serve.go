//go:build !js

package page

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"time"

	"tenter/fibres/fault"
)

// Listen opens a loopback address; any other is refused.
func Listen(addr string) (net.Listener, error) {
	host, _, err := net.SplitHostPort(addr)
	if err == nil && host != "localhost" && !isLoopback(host) {
		err = errors.New("it is not a loopback address")
	}
	if err != nil {
		return nil, &fault.Fault{Kind: fault.WrongCall, Where: "--addr", What: fmt.Sprintf("the page cannot be opened at %q: %v", addr, err),
			Expected: "a loopback address and a port, as 127.0.0.1:0", Mend: "the page is for this machine only"}
	}
	l, err := net.Listen("tcp", addr)
	if err != nil {
		return nil, &fault.Fault{Kind: fault.Busy, Where: "--addr", What: fmt.Sprintf("nothing can listen at %s", addr), Expected: "a port that is free",
			Mend: "leave the port to be chosen: --addr 127.0.0.1:0", Err: err}
	}
	return l, nil
}

// How long the parts of a request may take, and how many may be open at once.
const (
	headerTime  = 5 * time.Second
	readTime    = 30 * time.Second
	writeTime   = 60 * time.Second
	idleTime    = 2 * time.Minute
	stopTime    = 5 * time.Second
	maxHeader   = 16 << 10
	connections = 128
)

// Serve answers until the context ends, then lets what is being answered
// finish.
func (s *Site) Serve(ctx context.Context, l net.Listener) error {
	return serve(ctx, l, s.Handler(l.Addr()))
}

func serve(ctx context.Context, l net.Listener, h http.Handler) error {
	srv := &http.Server{Handler: h, ReadHeaderTimeout: headerTime, ReadTimeout: readTime, WriteTimeout: writeTime,
		IdleTimeout: idleTime, MaxHeaderBytes: maxHeader}
	done := make(chan error, 1)
	go func() { done <- srv.Serve(newLimited(l, connections)) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	stop, cancel := context.WithTimeout(context.Background(), stopTime)
	defer cancel()
	if err := srv.Shutdown(stop); err != nil {
		return srv.Close()
	}
	return nil
}

// limited lets only so many connections be open at once; more wait.
type limited struct {
	net.Listener
	free chan struct{}
}

func newLimited(l net.Listener, n int) *limited {
	return &limited{l, make(chan struct{}, n)}
}

// Accept waits for a free place, then for a connection.
func (l *limited) Accept() (net.Conn, error) {
	l.free <- struct{}{}
	c, err := l.Listener.Accept()
	if err != nil {
		<-l.free
		return nil, err
	}
	return &limitedConn{Conn: c, free: l.free}, nil
}

type limitedConn struct {
	net.Conn
	free chan struct{}
	once onceDone
}

// Close gives the place back, once.
func (c *limitedConn) Close() error {
	err := c.Conn.Close()
	c.once.do(func() { <-c.free })
	return err
}
