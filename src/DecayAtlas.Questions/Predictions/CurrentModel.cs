namespace DecayAtlas.Questions.Predictions;

/// <summary>Finds the models of an atlas.</summary>
public static class CurrentModel
{
    /// <summary>The newest model of k or of S, or the one of an id.</summary>
    /// <exception cref="ConfigurationException">The atlas has no model of that id.</exception>
    /// <exception cref="AtlasException">The atlas has no model, or one whose files were changed since training.</exception>
    /// <exception cref="PredictionException">The model's files are broken.</exception>
    public static RateModel Load(AtlasFolder atlas, MapQuantity of, string? id = null)
    {
        string folder = id is null ? MadeFolder.CurrentOf(atlas.Models, of.Link) : Path.Combine(atlas.Models, id);
        if (Directory.Exists(folder) && (id is null || Path.GetFileName(folder) == id))
        {
            RateModel model = RateModel.Load(folder);
            CheckWhole(folder, model.Card.ModelId);
            return model.Card.Target == of.Target ? model
                : throw new AtlasException($"Model {model.Card.ModelId} predicts {MapQuantity.Of(model.Card.Target).Symbol} and not "
                    + $"{of.Symbol}, which was expected here; name a model of {of.Symbol}.");
        }

        if (id is null)
        {
            throw new AtlasException(of == MapQuantity.DecayRate
                ? $"{atlas.Root} has no model yet; train one first, for example with: decayatlas train FILE."
                : $"{atlas.Root} has no model of {of.Symbol} yet; add stabilisation to train.targets and train one with: decayatlas train "
                + "FILE.");
        }

        string[] there = Directory.Exists(atlas.Models)
            ? [.. Directory.GetDirectories(atlas.Models).Select(Path.GetFileName)
                .Where(n => n is not null && !n.StartsWith("current", StringComparison.Ordinal) && n[0] != '.')
                .Order(StringComparer.Ordinal)!] : [];
        throw new ConfigurationException(
            $"{atlas.Root} has no model {id}; it has {(there.Length == 0 ? "none" : string.Join(", ", there))}.");
    }

    /// <summary>An id stands for a model's bytes: what was changed by hand or by a disk must not predict under it.</summary>
    private static void CheckWhole(string folder, string id)
    {
        string checksums = Path.Combine(folder, MadeFolder.ChecksumsName);
        if (!File.Exists(checksums))
        {
            throw new AtlasException($"Model {id} has no {MadeFolder.ChecksumsName}, so nobody can tell whether it is as it was "
                + "trained; train it again.");
        }
        // figures and text that people open may have companions; what predicts may not
        foreach ((string path, string what) in FolderChecksums.Differences(folder, File.ReadLines(checksums), MadeFolder.ChecksumsName)
            .Where(d => RateModel.RestsOn(d.Path)))
        {
            throw new AtlasException($"{Path.Combine(folder, path)} cannot be trusted, for {what}; delete the folder of model {id} and "
                + "train it again.");
        }
    }
}
