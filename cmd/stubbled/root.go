package main

import (
	"runtime/debug"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/usage"
)

func newRoot(e *env) *cobra.Command {
	root := &cobra.Command{
		Use:   "stubbled",
		Short: "Reminds you in time to rest native warm-season grass before frost",
		Long: `stubbled counts back from the first fall frost, reminds by text and mail before
each native paddock must be empty, takes a leaf height by text and answers GO or
WAIT with the reason, and keeps the paddock shut until frost really comes.`,
		Version:       version(),
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          noArgs,
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.PersistentFlags().StringVar(&e.farmFile, "farm", "", "the farm `file` (else $STUBBLED_FARM, the service's folders, ./farm.yaml)")
	root.PersistentFlags().StringVar(&e.dbFile, "db", "", "the database `file` (else $STUBBLED_DB, the service's state directory, beside the farm file)")
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return usage.Error{Err: err} })
	root.AddCommand(
		runCmd(e), rehearseCmd(e), initCmd(e), checkCmd(e), seasonCmd(e), frostCmd(e), figuresCmd(e), understandCmd(e),
		heightCmd(e), sayCmd(e), saidCmd(e), lessonsCmd(e), feedCmd(e), whatIfCmd(e), cardCmd(e), recordCmd(e), diaryCmd(e), backupCmd(e), restoreCmd(e),
		docsCmd(),
	)
	return root
}

func version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" && info.Main.Version != "(devel)" {
		return info.Main.Version
	}
	return "built from source"
}
