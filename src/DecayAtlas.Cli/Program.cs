using DecayAtlas.Cli;

return CommandLine.Run(args, Console.Out, Console.Error);
