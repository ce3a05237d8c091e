using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace DecayAtlas.Pipeline.Stages;

/// <summary>The maps of k and S -> both together, the last part of the stage map.</summary>
public static class JointStep
{
    public sealed record Output(string Folder, bool IsNew, JointSummary Summary);

    /// <returns>Where it lies, or why there is none.</returns>
    /// <exception cref="PredictionException">A map has no bands of this version, or a file cannot be written.</exception>
    internal static (Output? Made, string? Absence) Run(AtlasFolder atlas, (ModelCard Card, MapStage.Output Map) rate,
        (ModelCard Card, MapStage.Output Map) stabilisation, MapOptions options, Action<string, int, int>? progress)
    {
        foreach (ModelCard card in new[] { rate.Card, stabilisation.Card })
        {
            if (card.Support == Support.None)
            {
                return (null, $"Nothing predicts {MapQuantity.Of(card.Target).Symbol} better than its mean, which is the same "
                    + "everywhere, so that there are no classes to tell.");
            }
        }

        string[] made = [Path.GetFileName(rate.Map.Folder), Path.GetFileName(stabilisation.Map.Folder), options.Title];
        string key = string.Create(InvariantCulture, $"{JointMap.Version}\n{string.Join('\n', made)}\n");
        string id = $"{rate.Card.ModelId}-joint-{Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(key)))[..8]}";
        try
        {
            (string path, bool isNew) = MadeFolder.Ensure(atlas.Maps, id, folder =>
            {
                JointSummary summary = JointMap.Make(new(Of(rate.Map, MapQuantity.DecayRate), rate.Card),
                    new(Of(stabilisation.Map, MapQuantity.Stabilisation), stabilisation.Card), options, JointFiles.In(folder), progress);
                DurableFile.WriteText(Path.Combine(folder, JointFiles.SummaryName),
                    JsonSerializer.Serialize(summary with { RateMapId = made[0], StabilisationMapId = made[1] }, JsonText.Options) + "\n");
            }, JointMap.Link);
            return (new Output(path, isNew, SummaryOf(path)!), null);
        }
        catch (PredictionException e) when (e.IsOfRequest)
        {
            return (null, e.Message);
        }

        static string Of(MapStage.Output map, MapQuantity of) => Path.Combine(map.Folder, of.TifName);
    }

    /// <summary>The newest joint map, if it is of two maps; missing where it is of others.</summary>
    /// <param name="rateMap">Its folder.</param>
    internal static string? FolderOf(AtlasFolder atlas, string? rateMap, string? stabilisationMap) =>
        MadeFolder.CurrentIdOf(atlas.Maps, JointMap.Link) is { } id && Path.Combine(atlas.Maps, id) is var folder
        && SummaryOf(folder) is { RateMapId: { } ofRate, StabilisationMapId: { } ofShare }
        && ofRate == Path.GetFileName(rateMap) && ofShare == Path.GetFileName(stabilisationMap) ? folder : null;

    /// <summary>Takes the link of the newest away, where it is of other maps than the newest of k and S.</summary>
    internal static void UnlinkIfStale(AtlasFolder atlas)
    {
        if (FolderOf(atlas, MadeFolder.CurrentIdOf(atlas.Maps), MadeFolder.CurrentIdOf(atlas.Maps, MapQuantity.Stabilisation.Link)) is null)
            MadeFolder.Unlink(atlas.Maps, JointMap.Link);
    }

    /// <summary>What a joint map says of itself; missing where it has no such file.</summary>
    internal static JointSummary? SummaryOf(string folder) => Path.Combine(folder, JointFiles.SummaryName) is var path && File.Exists(path)
        ? JsonSerializer.Deserialize<JointSummary>(File.ReadAllText(path), JsonText.Options) : null;
}
