namespace DecayAtlas.EndToEnd;

/// <summary>A model of k that cannot be trained, beside one of S that can.</summary>
public sealed class TargetsApart(DemoRun demo) : IDisposable
{
    private readonly Workspace _work = new();

    public void Dispose() => _work.Dispose();

    [Fact]
    public void A_target_that_cannot_be_trained_is_told_in_a_sentence_and_the_other_is_trained_all_the_same()
    {
        Assert.SkipUnless(Command.Has("cp"), "cp is not installed");
        Copy(demo.Workspace.PathOf("atlas"), _work.PathOf("atlas"));
        string before = Model("current"), beforeOfS = Model("current-stabilisation");
        // precipitation is no temperature, which the baseline of k minds and S has no use for
        File.WriteAllText(_work.PathOf("p.yaml"), $$"""
            version: 1
            atlas: atlas
            inbox: inbox
            grids: {{demo.Workspace.PathOf("scenario/grids.yaml")}}
            train:
              covariates: [air_temperature_mean, precipitation]
              targets: [decay_rate, stabilisation]
              folds: 3
              block_degrees: 1
              trees: 5
              settings_tried: 1
              baseline: { temperature: precipitation }
            """);
        CommandResult run = _work.DecayAtlas("train", "p.yaml");
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("The baseline's temperature 'precipitation' has the unit 'mm/yr', expected degC", run.Everything, StringComparison.Ordinal);
        Assert.DoesNotContain("made a mistake", run.Everything, StringComparison.Ordinal);
        Assert.Equal(before, Model("current"));
        Assert.NotEqual(beforeOfS, Model("current-stabilisation"));
    }

    private string Model(string link) => File.ReadAllText(_work.PathOf($"atlas/models/{link}/card.json"));

    private static void Copy(string from, string to)
    {
        CommandResult copied = Command.Run(".", "cp", "-r", from, to);
        Assert.True(copied.ExitCode == 0, copied.Everything);
    }
}
