namespace DecayAtlas.Serving.Predicting;

/// <summary>Follows the models of an atlas, of k and where there is one of S, and the grids it predicts from: a newer one is loaded beside
/// the one in use, and then put in its place.</summary>
/// <param name="catalogueFile">The grid catalogue that it predicts from; nothing predicts without.</param>
/// <param name="remote">What may be read over the network; nothing unless stated.</param>
/// <param name="conditions">Season and depth where who asks names none.</param>
/// <param name="choices">Classes where who asks names none.</param>
public sealed class ServedModel(string atlas, string? catalogueFile, BurialConditions conditions, RemoteGrids? remote = null,
    ClassChoices? choices = null)
{
    private readonly AtlasFolder _atlas = new(atlas);
    private RemoteGrids _remote = remote ?? RemoteGrids.None;
    private volatile State _state = new(null, null, "This atlas has no model yet.", null);

    public PointPredictor? Current => _state.Predictor;

    /// <summary>Predicts S; missing where the atlas has no model of it.</summary>
    public PointPredictor? OfStabilisation => _state.OfStabilisation;

    /// <summary>Why nothing predicts, for readers.</summary>
    public string? Absence => _state.Absence;

    /// <summary>Takes up a model that was trained since, or a catalogue that was changed.</summary>
    /// <returns>Whether there was one.</returns>
    /// <exception cref="Exception">It can't be used: an <see cref="AtlasException"/>, <see cref="PredictionException"/>,
    /// <see cref="ConfigurationException"/> or <see cref="GridException"/>; the one before still predicts.</exception>
    public bool Follow()
    {
        if (MadeFolder.CurrentIdOf(_atlas.Models) is not { } model)
            return false;
        if (catalogueFile is null)
        {
            _state = new State(null, null, "The configuration of this atlas names no grids to predict from.", null);
            return false;
        }

        FileInfo catalogue = new(catalogueFile);
        string? ofStabilisation = MadeFolder.CurrentIdOf(_atlas.Models, MapQuantity.Stabilisation.Link);
        (string, string?, DateTime, long) key =
            (model, ofStabilisation, catalogue.LastWriteTimeUtc, catalogue.Exists ? catalogue.Length : -1);
        if (_state.Key == key && !_remote.IsOver)
            return false;
        _remote = _remote.Anew();
        try
        {
            IReadOnlyList<CatalogueEntry> entries = CatalogueFile.Read(catalogueFile, _remote);
            _state = new State(Predictor(MapQuantity.DecayRate),
                ofStabilisation is null ? null : Predictor(MapQuantity.Stabilisation), null, key);
            return true;

            PointPredictor Predictor(MapQuantity of) => new(CurrentModel.Load(_atlas, of), entries, conditions,
                choices ?? ClassChoices.None);
        }
        catch when (_state.Predictor is null)
        {
            _state = new State(null, null, "The model of this atlas can't be used; the server's log says why.", null);
            throw;
        }
    }

    private sealed record State(
        PointPredictor? Predictor, PointPredictor? OfStabilisation, string? Absence, (string, string?, DateTime, long)? Key);
}
