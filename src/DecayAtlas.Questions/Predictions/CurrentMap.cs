using System.Text.Json;

namespace DecayAtlas.Questions.Predictions;

/// <summary>The map that an atlas has now.</summary>
/// <param name="Summary">What it says of itself.</param>
internal sealed record CurrentMap(string Path, MapSummary Summary)
{
    /// <exception cref="AtlasException">The atlas has no map, or one of another version.</exception>
    public static CurrentMap Of(AtlasFolder atlas, MapQuantity of)
    {
        string map = MadeFolder.CurrentOf(atlas.Maps, of.Link);
        if (!Directory.Exists(map))
        {
            throw new AtlasException($"{atlas.Root} has no map{(of == MapQuantity.DecayRate ? "" : " of S")} yet; draw one first, for "
                + "example with: decayatlas map FILE.");
        }

        string path = System.IO.Path.Combine(map, RateMap.SummaryName);
        try
        {
            return JsonSerializer.Deserialize<MapSummary>(File.ReadAllText(path), JsonText.Options) is { ModelId: not null } summary
                ? new(System.IO.Path.Combine(map, of.TifName), summary)
                : throw new JsonException("it names no model");
        }
        catch (Exception e) when (e is JsonException or FileNotFoundException)
        {
            throw new AtlasException($"{path} is not of this version ({e.Message.TrimEnd('.')}); draw the map again with: decayatlas "
                + "map FILE.", e);
        }
    }
}
