namespace DecayAtlas.Serving.Predicting;

/// <summary>Follows the models of an atlas, of k and where there is one of S, and the grids it predicts from: a newer one is loaded beside
/// the one in use, and then put in its place. What is wrong with S leaves k alone.</summary>
/// <param name="catalogueFile">The grid catalogue that it predicts from; nothing predicts without.</param>
/// <param name="remote">What may be read over the network; nothing unless stated.</param>
/// <param name="conditions">Season and depth where who asks names none.</param>
/// <param name="choices">Classes where who asks names none.</param>
public sealed class ServedModel(string atlas, string? catalogueFile, BurialConditions conditions, RemoteGrids? remote = null,
    ClassChoices? choices = null)
{
    private readonly AtlasFolder _atlas = new(atlas);
    private volatile State _ofRate = State.Without("This atlas has no model yet."), _ofStabilisation = State.Without(null);

    public PointPredictor? Current => _ofRate.Predictor;

    /// <summary>Predicts S; missing where the atlas has no model of it, or one that can't be used.</summary>
    public PointPredictor? OfStabilisation => _ofStabilisation.Predictor;

    /// <summary>Why nothing predicts, for readers.</summary>
    public string? Absence => _ofRate.Absence;

    /// <summary>Why nothing predicts S though the atlas has a model of it, for readers.</summary>
    public string? AbsenceOfStabilisation => _ofStabilisation.Absence;

    /// <summary>Takes up a model of k that was trained since, or a catalogue that was changed.</summary>
    /// <returns>Whether there was one.</returns>
    /// <exception cref="Exception">It can't be used: an <see cref="AtlasException"/>, <see cref="PredictionException"/>,
    /// <see cref="ConfigurationException"/> or <see cref="GridException"/>; the one before still predicts.</exception>
    public bool Follow()
    {
        if (MadeFolder.CurrentIdOf(_atlas.Models) is not { } model)
            return false;
        if (catalogueFile is null)
        {
            _ofRate = State.Without("The configuration of this atlas names no grids to predict from.");
            return false;
        }

        try
        {
            if (Newer(_ofRate, MapQuantity.DecayRate, model, catalogueFile) is not { } newer)
                return false;
            _ofRate = newer;
            return true;
        }
        catch when (_ofRate.Predictor is null)
        {
            _ofRate = State.Without("The model of this atlas can't be used; the server's log says why.");
            throw;
        }
    }

    /// <summary>The same for S.</summary>
    /// <returns>Whether there was one.</returns>
    /// <exception cref="Exception">As of <see cref="Follow"/>.</exception>
    public bool FollowStabilisation()
    {
        if (catalogueFile is null || MadeFolder.CurrentIdOf(_atlas.Models, MapQuantity.Stabilisation.Link) is not { } model)
        {
            _ofStabilisation = State.Without(null);
            return false;
        }

        try
        {
            if (Newer(_ofStabilisation, MapQuantity.Stabilisation, model, catalogueFile) is not { } newer)
                return false;
            _ofStabilisation = newer;
            return true;
        }
        catch when (_ofStabilisation.Predictor is null)
        {
            _ofStabilisation = State.Without("The model of S of this atlas can't be used; the server's log says why.");
            throw;
        }
    }

    /// <returns>Missing where what predicts is the newest.</returns>
    private State? Newer(State before, MapQuantity of, string model, string catalogue)
    {
        FileInfo file = new(catalogue);
        (string, DateTime, long) key = (model, file.LastWriteTimeUtc, file.Exists ? file.Length : -1);
        if (before.Key == key && before.Remote is { IsOver: false })
            return null;
        RemoteGrids anew = (remote ?? RemoteGrids.None).Anew();
        return new(new PointPredictor(CurrentModel.Load(_atlas, of), CatalogueFile.Read(catalogue, anew), conditions,
            choices ?? ClassChoices.None), null, key, anew);
    }

    private sealed record State(PointPredictor? Predictor, string? Absence, (string, DateTime, long)? Key, RemoteGrids? Remote)
    {
        public static State Without(string? absence) => new(null, absence, null, null);
    }
}
