package cli

type showCmd struct {
	Rig string `arg:"" type:"existingfile" help:"Rig file."`
}

func (s showCmd) Run(env Env) error { return nil }
