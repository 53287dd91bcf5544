package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"net"
	"net/netip"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"seatward/internal/program"
	"seatward/internal/store"
	"seatward/internal/web"
)

// serveFlags are the flags of serve beside those in common.
type serveFlags struct {
	inputs
	listen, store, token string
	computations         int
	open, check          bool
}

// noStore stands for no store among the names of --store.
const noStore = "none"

// serveCommand serves the workbench.
func (a *app) serveCommand() *cobra.Command {
	var in serveFlags
	c := &cobra.Command{
		Use:   "serve",
		Short: "Serve the workbench: one page in the browser of this machine",
		Long: "Serve the workbench to the browser of this machine, without any network. Studies\n" +
			"that are saved there are kept in one file, every save as a revision that stays.\n" +
			"Listening where others can reach it needs a token file: a line of 32 characters\n" +
			"or more, in a file that only you can read. Ctrl-C ends it; logs go to standard\n" +
			"error as JSON and hold nothing of a station.",
		Example:     "seatward serve --store none --check",
		Args:        exactly(0, "no arguments"),
		Annotations: map[string]string{exitNote: "0 stopped on request; 1 it cannot listen or the store cannot be used; 2 bad input, and nothing is served"},
	}
	c.RunE = func(c *cobra.Command, _ []string) error { return a.serve(c.Context(), &in) }
	f := c.Flags()
	f.StringVar(&in.listen, "listen", "127.0.0.1:8173", "`ADDRESS` and port; port 0 takes any that is free")
	f.StringVar(&in.store, "store", "",
		"`FILE` in which studies are kept, made where there is none; the word none keeps none; one in your folder of settings without it")
	f.StringVar(&in.token, "token-file", "", "`FILE` with the token that whoever asks must show")
	f.IntVar(&in.computations, "computations", runtime.GOMAXPROCS(0), "`NUMBER` of computations at once; more wait")
	f.BoolVar(&in.open, "open", false, "open the page in the browser")
	f.BoolVar(&in.check, "check", false, "check all of this, print what would be served, and end")
	in.dataFlags(c)
	in.ruleFlags(c)
	return c
}

func (a *app) serve(ctx context.Context, in *serveFlags) error {
	config, err := a.serveConfig(in)
	if err != nil {
		return err
	}
	name, err := in.storeFile()
	if err != nil {
		return err
	}
	if in.check {
		return a.checkServe(in, config, name)
	}
	if name != noStore {
		if config.Store, err = store.Open(name); err != nil {
			return fmt.Errorf("%w: %w", errNoAnswer, err)
		}
		defer config.Store.Close()
	}
	web.UseMemory()
	server, err := web.New(config)
	if err != nil {
		return err
	}
	l, err := net.Listen("tcp", in.listen)
	if err != nil {
		return fmt.Errorf("%w: %w", errNoAnswer, unlistened(in.listen, err))
	}
	defer l.Close()
	if tcp, ok := l.Addr().(*net.TCPAddr); config.Loopback && (!ok || !tcp.IP.IsLoopback()) {
		return fmt.Errorf("--listen %s is %s here, which other machines can reach; write 127.0.0.1", in.listen,
			l.Addr())
	}
	page := "http://" + l.Addr().String()
	a.complain("the page is " + page + "; Ctrl-C ends it")
	if name == noStore {
		a.complain("no studies are kept")
	} else {
		a.complain("studies are kept in " + name)
	}
	if in.open {
		if err := browse(page); err != nil {
			a.complain("no browser could be opened: " + err.Error())
		}
	}
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	defer stop()
	return server.Serve(ctx, l)
}

// serveConfig reads data and token and holds the address to the rule about them.
func (a *app) serveConfig(in *serveFlags) (web.Config, error) {
	out := web.Config{
		Computations: in.computations, Program: program.Title(),
		Log: slog.New(slog.NewJSONHandler(a.err, nil)),
	}
	if in.computations < 1 {
		return out, fmt.Errorf("--computations %d: at least 1 is expected", in.computations)
	}
	var err error
	if out.Loopback, err = listensHere(in.listen); err != nil {
		return out, err
	}
	if in.token != "" {
		if out.Token, err = readToken(in.token); err != nil {
			return out, err
		}
	}
	if !out.Loopback && out.Token == "" {
		return out, fmt.Errorf("--listen %s can be reached from other machines, and anyone there could use it: give a token with --token-file FILE, or listen on 127.0.0.1", in.listen)
	}
	opt, err := a.options(&in.inputs)
	out.Catalogs, out.Rules = opt.Catalogs, opt.Rules
	return out, err
}

// checkServe prints what would be served.
func (a *app) checkServe(in *serveFlags, config web.Config, store string) error {
	if _, err := web.New(config); err != nil {
		return err
	}
	who := "this machine only"
	if !config.Loopback {
		who = "other machines too"
	}
	token := "none"
	if config.Token != "" {
		token = in.token
	}
	families := 0
	for _, c := range config.Catalogs {
		families += len(c.Families)
	}
	fmt.Fprintf(&a.out, "listen    %s, for %s\ntoken     %s\nstore     %s\nfamilies  %d\nat once   %d computations\n",
		in.listen, who, token, store, families, in.computations)
	return nil
}

// listensHere checks an address to listen at, and reports whether only this machine can
// reach it. No address stands for all that the machine has.
func listensHere(address string) (bool, error) {
	host, port, err := net.SplitHostPort(address)
	if err != nil || port == "" {
		return false, fmt.Errorf("--listen %q: an address and a port are expected, such as 127.0.0.1:8173", address)
	}
	if n, err := net.LookupPort("tcp", port); err != nil || n < 0 {
		return false, fmt.Errorf("--listen %q: %q is not a port; write a number from 0 to 65535", address, port)
	}
	if _, err := netip.ParseAddr(host); err != nil && host != "" && host != "localhost" {
		return false, fmt.Errorf("--listen %q: %q is not an address; write one such as 127.0.0.1, or localhost",
			address, host)
	}
	return web.IsLoopback(address), nil
}

// readToken reads a token from a file that nobody else can read.
func readToken(name string) (string, error) {
	info, err := os.Stat(name)
	if err != nil {
		return "", unreadable(name, err)
	}
	if runtime.GOOS != "windows" && info.Mode().Perm()&0o077 != 0 {
		return "", fmt.Errorf("%s can be read by others (mode %04o); chmod 600 it, and put a new token in if others may have read this one", name, info.Mode().Perm())
	}
	const most = 4096
	f, err := open(name)
	if err != nil {
		return "", unreadable(name, err)
	}
	defer f.Close()
	data := make([]byte, most)
	n, err := io.ReadFull(f, data)
	if err != nil && n == 0 {
		return "", fmt.Errorf("%s holds no token; write a line of %d characters or more", name, web.MinTokenLength)
	}
	token := strings.TrimSpace(string(data[:n]))
	for _, r := range token {
		if r <= ' ' || r > '~' {
			return "", fmt.Errorf("%s: a token is one line of letters, digits and signs, without blanks", name)
		}
	}
	if len(token) < web.MinTokenLength || n == most {
		return "", fmt.Errorf("%s: the token has %d characters; at least %d and fewer than %d are expected", name,
			len(token), web.MinTokenLength, most)
	}
	return token, nil
}

// storeFile is where studies are kept.
func (in *serveFlags) storeFile() (string, error) {
	if in.store != "" {
		return in.store, nil
	}
	folder, err := os.UserConfigDir()
	if err != nil {
		return "", errors.New("there is no folder of settings to keep studies in; name a file with --store FILE, or keep none with --store none")
	}
	folder = filepath.Join(folder, "seatward")
	if in.check {
		return filepath.Join(folder, "studies.seatward"), nil
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return "", unwritable(folder, err)
	}
	return filepath.Join(folder, "studies.seatward"), nil
}

// unlistened words why an address cannot be listened at.
func unlistened(address string, err error) error {
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		return fmt.Errorf("%s is in use by another program; choose another port with --listen, or 127.0.0.1:0 for any that is free", address)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s may not be listened at; choose a port from 1024 on", address)
	}
	return fmt.Errorf("%s cannot be listened at: %w", address, err)
}

// browse opens an address in the browser.
func browse(address string) error {
	c := exec.Command("xdg-open", address)
	switch runtime.GOOS {
	case "darwin":
		c = exec.Command("open", address)
	case "windows":
		c = exec.Command("rundll32", "url.dll,FileProtocolHandler", address)
	}
	if err := c.Start(); err != nil {
		return err
	}
	go func() { _ = c.Wait() }() // what becomes of the browser is its own business
	return nil
}
