using System.Text.Json;
using System.Text.Json.Serialization;

namespace DecayAtlas.Demo.Scenarios;

/// <summary>What a scenario holds; also kept in its folder as scenario.json, which is how a finished one is known.</summary>
public sealed record ScenarioSummary
{
    internal const string FileName = "scenario.json";

    private static readonly JsonSerializerOptions Format = new()
    {
        WriteIndented = true,
        NewLine = "\n",
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
    };

    /// <summary>Version of the generator; another version makes other files from the same seed.</summary>
    public required int GeneratorVersion { get; init; }

    public required int Seed { get; init; }

    /// <summary>What was planted.</summary>
    [JsonConverter(typeof(JsonStringEnumConverter<FaultSet>))]
    public FaultSet Faults { get; init; }

    /// <summary>Contributions that intake should accept.</summary>
    public required int SoundContributions { get; init; }

    /// <summary>Contributions that intake should quarantine.</summary>
    public required int BrokenContributions { get; init; }

    /// <summary>Distinct sites: a group that came back to its sites counts them once.</summary>
    public required int Sites { get; init; }

    public required int Burials { get; init; }

    public required int Bags { get; init; }

    public required int Grids { get; init; }

    /// <summary>Land cells of the fine lattice, which is what a map of the islands has values for.</summary>
    public required int LandCells { get; init; }

    /// <summary>Faults planted for their own sake, broken contributions included.</summary>
    public required int PlantedFaults { get; init; }

    /// <summary>Flags that follow of necessity from a planted fault.</summary>
    public required int ConsequentFaults { get; init; }

    /// <summary>True when the folder already held this very scenario and nothing was written.</summary>
    [JsonIgnore]
    public bool AlreadyThere { get; init; }

    internal void Save(string folder) =>
        File.WriteAllText(Path.Combine(folder, FileName), JsonSerializer.Serialize(this, Format) + "\n");

    /// <summary>The summary of the scenario in a folder; null when the folder holds none that can be read.</summary>
    internal static ScenarioSummary? Find(string folder)
    {
        string path = Path.Combine(folder, FileName);
        if (!File.Exists(path)) return null;
        try
        {
            return JsonSerializer.Deserialize<ScenarioSummary>(File.ReadAllText(path), Format);
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
