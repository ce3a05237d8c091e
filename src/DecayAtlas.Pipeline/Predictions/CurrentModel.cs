using DecayAtlas.Atlas;
using DecayAtlas.Atlas.Storage;
using DecayAtlas.Prediction;

namespace DecayAtlas.Pipeline.Predictions;

/// <summary>Finds the models of an atlas.</summary>
public static class CurrentModel
{
    /// <summary>The newest model, or the one of an id.</summary>
    /// <exception cref="AtlasException">The atlas has no model, or none of that id.</exception>
    /// <exception cref="PredictionException">The model's files are broken.</exception>
    public static RateModel Load(AtlasFolder atlas, string? id = null)
    {
        string folder = id is null ? MadeFolder.CurrentOf(atlas.Models) : Path.Combine(atlas.Models, id);
        if (Directory.Exists(folder) && (id is null || Path.GetFileName(folder) == id))
        {
            RateModel model = RateModel.Load(folder);
            return model.Card.Target == PredictionTarget.DecayRate ? model
                : throw new AtlasException($"Model {model.Card.ModelId} predicts S and not k, which was expected here; name a model of k.");
        }

        if (id is null)
            throw new AtlasException($"{atlas.Root} has no model yet; train one first, for example with: decayatlas train FILE.");
        string[] there = Directory.Exists(atlas.Models) ? [.. Directory.GetDirectories(atlas.Models).Select(Path.GetFileName).Where(n => !n!.StartsWith("current", StringComparison.Ordinal)).Order(StringComparer.Ordinal)!] : [];
        throw new AtlasException($"{atlas.Root} has no model {id}; it has {(there.Length == 0 ? "none" : string.Join(", ", there))}.");
    }
}
