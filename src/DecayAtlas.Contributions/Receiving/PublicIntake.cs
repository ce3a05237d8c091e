using System.Text.Json;
using Json.Schema;

namespace DecayAtlas.Contributions.Receiving;

/// <summary>
/// What everybody may know of a received thing: what became of it, its content hash, its contribution id where that is sound, and what is
/// to be mended. Not what it was called in the inbox, nor anything that stood in it.
/// </summary>
public sealed record PublicIntake
{
    private const int ShortHashLength = 12;

    private static readonly Lazy<JsonSchema> IdRule = new(() =>
        JsonSchema.FromText(SchemaCatalogue.DescriptorDocument.GetProperty("properties").GetProperty("name").GetRawText()));

    private PublicIntake(IntakeResult result)
    {
        Outcome = result.Outcome;
        ContentHash = Contributions.ContentHash.IsOne(result.ContentHash) ? result.ContentHash : null;
        Format = result.Format;
        ContributionId = result.ContributionId is { } id && IsSound(id) ? id : null;
        Findings = [.. result.Findings.Select(PublicFinding.Of).OfType<PublicFinding>()];
    }

    public IntakeOutcome Outcome { get; }

    /// <summary>Its address in intake or quarantine; missing for what was not kept, such as a link or what is still arriving.</summary>
    public string? ContentHash { get; }

    /// <summary>Missing when its descriptor was not good.</summary>
    public string? ContributionId { get; }

    /// <summary>What kind of thing it is; missing where that was not clear.</summary>
    public ContributionFormat? Format { get; }

    public IReadOnlyList<PublicFinding> Findings { get; }

    /// <summary>The first digits of the content hash: enough to find its folder.</summary>
    public string? ShortHash => ContentHash is { } hash ? ShortOf(hash) : null;

    /// <summary>What it is called where everybody may read it.</summary>
    public string Name => (ContributionId, ShortHash) switch
    {
        ({ } id, { } hash) => $"{id} ({hash})",
        ({ } id, null) => $"an entry of the inbox ({id})",
        (null, { } hash) => hash,
        _ => "an entry of the inbox",
    };

    public static PublicIntake Of(IntakeResult result) => new(result);

    internal static string ShortOf(string contentHash) => contentHash[..ShortHashLength];

    // Judged again by the schema, so that no way to set an id can make a text public that is none.
    private static bool IsSound(string id)
    {
        using JsonDocument text = JsonDocument.Parse(JsonSerializer.Serialize(id));
        return IdRule.Value.Evaluate(text.RootElement).IsValid;
    }
}
