package cli

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"runtime"
	"runtime/debug"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"tideover/internal/shelf"
	"tideover/internal/web"
	"tideover/internal/words"
)

// mostPort is the last port there is.
const mostPort = 65535

// newServe is the page. now tells the date a new job carries.
func newServe(s streams, now func() time.Time) *cobra.Command {
	var (
		l     loader
		where web.Where
		quiet bool
	)
	c := &cobra.Command{
		Use:     "serve FOLDER",
		Short:   words.Say("cli.serve.short", nil),
		Long:    words.Say("cli.serve.long", nil),
		Example: "  " + words.Say("cli.serve.example", nil),
		Args:    exactly(1, "cli.usage.folder", "cli.serve.example"),
		RunE: func(c *cobra.Command, args []string) error {
			if where.Port < 0 || where.Port > mostPort {
				return usage(c, words.Say("cli.serve.port", words.Args{"port": fmt.Sprint(where.Port), "most": fmt.Sprint(mostPort)}))
			}
			cat, err := l.catalogue()
			if err != nil {
				return err
			}
			folder, err := shelf.OpenFolder(args[0])
			if err != nil {
				return err
			}
			defer folder.Close()
			service, err := web.Listen(web.New(folder, cat, version(), func() string { return now().Format(time.DateOnly) }), where)
			if err != nil {
				return err
			}
			if where.LAN != "" {
				fmt.Fprint(s.err, wrapped(words.Say("cli.serve.lan", words.Args{"name": where.LAN, "host": service.Host}), "", "", width))
			}
			fmt.Fprintln(s.out, service.Address)
			fmt.Fprintln(s.err, words.Say("cli.serve.stop", nil))
			if !quiet && where.LAN == "" {
				openBrowser(service.Address)
			}
			modest()
			ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			return service.Run(ctx)
		},
	}
	l.catalogueFlag(c)
	c.Flags().IntVar(&where.Port, "port", 0, words.Say("cli.flag.port", nil))
	c.Flags().StringVar(&where.LAN, "lan", "", words.Say("cli.flag.lan", nil))
	c.Flags().BoolVar(&quiet, "no-browser", false, words.Say("cli.flag.no-browser", nil))
	return c
}

// modest makes a programme that stays on give memory back: a single run rather saves time.
func modest() {
	debug.SetGCPercent(100)
	debug.SetMemoryLimit(200 << 20)
}

// openBrowser opens an address where there is a desktop to open it on; where that fails
// the address is printed all the same.
func openBrowser(address string) {
	var c *exec.Cmd
	switch {
	case runtime.GOOS == "darwin":
		c = exec.Command("open", address)
	case runtime.GOOS == "windows":
		c = exec.Command("rundll32", "url.dll,FileProtocolHandler", address)
	case os.Getenv("DISPLAY") != "" || os.Getenv("WAYLAND_DISPLAY") != "":
		c = exec.Command("xdg-open", address)
	default:
		return
	}
	if c.Start() == nil {
		go func() { _ = c.Wait() }()
	}
}
