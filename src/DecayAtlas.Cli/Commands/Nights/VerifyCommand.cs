namespace DecayAtlas.Cli.Commands.Nights;

/// <summary>Recomputes every checksum and names what rotted.</summary>
internal sealed class VerifyCommand(Screen screen) : PlainCommand<ConfigurationFileSettings>
{
    protected override int Execute(ConfigurationFileSettings settings)
    {
        PipelineConfiguration configuration = ConfigurationReader.Read(settings.File);
        AtlasFolder atlas = new(configuration.Atlas);
        if (!Directory.Exists(atlas.Root))
            throw new AtlasException($"There is no atlas at {atlas.Root}; run once first.");
        using AtlasLock? held = AtlasLock.TakeToRead(atlas);
        Verification found = Verification.Of(atlas, null, DecisionsFile.Of(configuration).Withdrawn);
        if (held is null && !settings.Json)
            screen.Line("The atlas could not be locked, so nothing kept a run away while it was read.");
        if (settings.Json)
        {
            screen.Json(found);
        }
        else
        {
            screen.Lines(found.Rotten.Select(rot => $"{rot.Path}: {rot.What}"));
            string outcome = found.Rotten.Count switch
            {
                0 => "every checksum holds",
                1 => "1 thing is not what it was",
                int n => $"{n} things are not what they were",
            };
            string contributions = $"{found.Contributions} accepted contribution{(found.Contributions == 1 ? "" : "s")}";
            screen.Line($"{found.Files} files of releases, parts, models and maps, "
                + $"{contributions} and {found.SetAside} in the quarantine read: {outcome}.");
        }

        return found.Rotten.Count == 0 ? RecordedRun.Done : RecordedRun.NeedsPerson;
    }
}
