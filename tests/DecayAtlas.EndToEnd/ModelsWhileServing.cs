namespace DecayAtlas.EndToEnd;

/// <summary>What predicts while models and grids of a served atlas change: the newest that is whole, else the one before.</summary>
public sealed class ModelsWhileServing(DemoRun demo) : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("decayatlas-models-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_newer_model_is_taken_up_and_a_broken_one_leaves_the_one_before()
    {
        ServedModel served = Served();
        Assert.False(served.Follow());
        Assert.Null(served.Current);
        Assert.Equal("This atlas has no model yet.", served.Absence);

        Train("m-one");
        Assert.True(served.Follow());
        Assert.False(served.Follow());
        Questions.Predictions.PointPredictor? first = served.Current;
        Assert.NotNull(first!.Predict(Place).Prediction!.Value);

        Train("m-two");
        Assert.True(served.Follow());
        Assert.NotSame(first, served.Current);

        Questions.Predictions.PointPredictor? before = served.Current;
        Train("m-three", breakIt: true);
        Assert.Contains("limits.json cannot be trusted", Assert.Throws<AtlasException>(() => served.Follow()).Message,
            StringComparison.Ordinal);
        Assert.Same(before, served.Current);

        Train("m-four");
        Assert.True(served.Follow());
    }

    [Fact]
    public void A_catalogue_that_was_changed_counts_from_then_on()
    {
        ServedModel served = Served();
        Train("m-one");
        served.Follow();
        double? Elevation() => served.Current!.Predict(Place).Prediction!.Covariates.Single(c => c.Name == "elevation").Value;
        double? before = Elevation();
        File.WriteAllText(Grids, File.ReadAllText(Grids)
            .Replace("elevation.tif\n", "elevation.tif\n    offset: 100\n", StringComparison.Ordinal));
        Assert.True(served.Follow());
        Assert.Equal(before + 100, Elevation());
    }

    [Fact]
    public void Grids_that_went_away_are_told_by_the_name_of_one_of_them()
    {
        ServedModel served = Served();
        Train("m-one");
        served.Follow();
        File.WriteAllText(Grids, File.ReadAllText(Grids).Replace(".tif\n", ".gone\n", StringComparison.Ordinal));
        served.Follow();
        Assert.Matches(@"covariate \w+: .*\.gone cannot be opened: there is no such file\.$",
            Assert.Throws<GridException>(() => served.Current!.Predict(Place)).Message);
    }

    [Fact]
    public void A_first_model_that_is_broken_is_told_to_readers_without_a_path()
    {
        ServedModel served = Served();
        Train("m-one", breakIt: true);
        Assert.Throws<AtlasException>(() => served.Follow());
        Assert.Equal("The model of this atlas can't be used; the server's log says why.", served.Absence);
    }

    [Fact]
    public void A_broken_model_of_S_is_told_and_leaves_k_predicting_and_a_whole_one_is_taken_up()
    {
        ServedModel served = Served();
        Train("m-one");
        Assert.True(served.Follow());
        Assert.False(served.FollowStabilisation());
        Assert.Null(served.AbsenceOfStabilisation);

        string ofShare = MapQuantity.Stabilisation.Link;
        Train("m-s-one", breakIt: true, link: ofShare);
        Assert.False(served.Follow());
        Assert.Contains("limits.json cannot be trusted", Assert.Throws<AtlasException>(() => served.FollowStabilisation()).Message,
            StringComparison.Ordinal);
        Assert.NotNull(served.Current!.Predict(Place).Prediction!.Value);
        Assert.Null(served.OfStabilisation);
        Assert.Equal("The model of S of this atlas can't be used; the server's log says why.", served.AbsenceOfStabilisation);

        Train("m-s-two", link: ofShare);
        Assert.True(served.FollowStabilisation());
        Assert.Null(served.AbsenceOfStabilisation);
        Assert.NotNull(served.OfStabilisation!.Predict(Place).Prediction!.Value);
    }

    private string Grids => Path.Combine(_folder, "grids.yaml");

    private static string? Place(string name) => name switch { "lon" => "-30", "lat" => "-40", _ => null };

    private ServedModel Served()
    {
        File.WriteAllText(Grids, File.ReadAllText(demo.Workspace.PathOf("scenario/grids.yaml"))
            .Replace("grids/", demo.Workspace.PathOf("scenario/grids/"), StringComparison.Ordinal));
        string file = Path.Combine(_folder, "p.yaml");
        File.WriteAllText(file, "version: 1\natlas: atlas\ninbox: inbox\ngrids: grids.yaml\n");
        return ServedDemo.ModelOf(file);
    }

    /// <summary>Puts the demo's model where a training would put one of that id.</summary>
    private void Train(string id, bool breakIt = false, string link = MadeFolder.DefaultLink)
    {
        (string folder, _) = MadeFolder.Ensure(Path.Combine(_folder, "atlas", "models"), id, made =>
        {
            foreach (string file in Directory.GetFiles(demo.Workspace.PathOf("atlas/models/" + link))
                .Where(f => Path.GetFileName(f) != MadeFolder.ChecksumsName))
            {
                File.Copy(file, Path.Combine(made, Path.GetFileName(file)));
            }
        }, link);
        if (breakIt)
            File.AppendAllText(Path.Combine(folder, "limits.json"), " ");
    }
}
