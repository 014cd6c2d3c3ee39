package ui

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// The tests named browser_* look at the page in a real browser and do there what a
// person does. There is one Chromium for all of them, since it takes half a second
// to start; each window has a profile of its own, as if it stood on another computer.

// chromium is the browser of this run of the tests.
var chromium struct {
	once sync.Once
	ctx  context.Context
	stop func() error
	err  error
}

const longestStart = 60 * time.Second // of the browser, on a machine with much else to do

// startChromium gives the context to open windows from. Without a browser the tests
// fail: a screen that nobody has looked at is not known to work.
func startChromium(t testing.TB) context.Context {
	t.Helper()
	chromium.once.Do(func() {
		path, err := chromiumPath()
		if err != nil {
			chromium.err = err
			return
		}
		options := append(chromedp.DefaultExecAllocatorOptions[:],
			chromedp.ExecPath(path),
			chromedp.NoSandbox, // which it refuses to run with as root, and tests in containers are root
			chromedp.DisableGPU,
			// The rest keeps it from asking its maker's servers.
			chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true), chromedp.Flag("no-pings", true))
		allocator, release := chromedp.NewExecAllocator(context.Background(), options...)
		ctx, cancel := chromedp.NewContext(allocator)
		chromium.ctx = ctx
		chromium.stop = func() error {
			defer release()
			defer cancel()
			soon, done := context.WithTimeout(ctx, 10*time.Second)
			defer done()
			return chromedp.Cancel(soon)
		}
		started := make(chan error, 1)
		go func() { started <- chromedp.Do(ctx) }()
		select {
		case chromium.err = <-started:
		case <-time.After(longestStart):
			chromium.err = fmt.Errorf("%s has not started within %v", path, longestStart)
		}
	})
	if chromium.err != nil {
		t.Fatalf("no browser: %v", chromium.err)
	}
	return chromium.ctx
}

func chromiumPath() (string, error) {
	for _, name := range []string{"/usr/bin/chromium", "chromium"} { // Debian's, or another that is found
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", errors.New("chromium is not installed: sudo apt-get install chromium")
}

// TestMain ends the browser, and sees to it that nothing of the server outlives it.
func TestMain(m *testing.M) {
	code := m.Run()
	if chromium.stop != nil {
		if err := chromium.stop(); err != nil && !errors.Is(err, context.Canceled) {
			fmt.Fprintln(os.Stderr, "the browser did not end well:", err)
			code = max(code, 1)
		}
	}
	if left := leftOver(5 * time.Second); left != "" {
		fmt.Fprintf(os.Stderr, "goroutines of the server are left when all servers are closed:\n%s\n", left)
		code = max(code, 1)
	}
	os.Exit(code)
}

// leftOver waits until no goroutine of this package runs but the caller's, and gives
// the stacks of those that do not end.
func leftOver(patience time.Duration) string {
	for end := time.Now().Add(patience); ; time.Sleep(20 * time.Millisecond) {
		var left []string
		stacks := make([]byte, 1<<20)
		for i, stack := range strings.Split(string(stacks[:runtime.Stack(stacks, true)]), "\n\n") {
			if i > 0 && strings.Contains(stack, "wintertruss/ui.") { // the first is this one
				left = append(left, stack)
			}
		}
		if len(left) == 0 || time.Now().After(end) {
			return strings.Join(left, "\n\n")
		}
	}
}
