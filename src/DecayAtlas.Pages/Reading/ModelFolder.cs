using System.Text.Json;

namespace DecayAtlas.Pages.Reading;

/// <summary>How a candidate did on places it had not seen.</summary>
public sealed record CandidateFacts(
    string Name, string Title, double? BlockedRmse, double? BlockedR2, double? RandomRmse, double? RandomR2);

/// <summary>A candidate that could not be trained, and why.</summary>
public sealed record LeftOutFacts(string Name, string Title, string Reason);

/// <summary>What the model must not be used for; a card of an earlier form has no code for it.</summary>
public sealed record ExcludedUseFacts(string? Code, string Sentence);

/// <summary>How much the error grows when a covariate is shuffled.</summary>
public sealed record ImportanceFacts(string Covariate, double? RmseIncrease, double? StandardDeviation);

/// <summary>The range of a covariate that the model learnt from.</summary>
public sealed record RangeFacts(string Name, string Unit, string Title, double? Minimum, double? Maximum)
{
    /// <summary>Of a class, those that it learnt from; none for a number.</summary>
    public IReadOnlyList<string> Classes { get; init; } = [];
}

/// <summary>How often the prediction interval held what was kept from the model.</summary>
public sealed record CoverageFacts(string Group, string Title, int Rows, double? Share);

/// <summary>How the prediction moves with one covariate, the others as they come with it.</summary>
public sealed record EffectFacts(string Covariate, IReadOnlyList<(double X, double Y)> Points)
{
    /// <summary>Names of the classes that the points are of; none for a number.</summary>
    public IReadOnlyList<string> Classes { get; init; } = [];
}

/// <summary>How the model stands without noted burials; numbers are missing where it could not be trained so.</summary>
public sealed record NotedFacts(
    int Rows, double? Rmse, double? RmseWithout, double? MedianShift, double? Shift95);

/// <summary>By which factor the map would be another without noted burials.</summary>
public sealed record MapShiftFacts(int Cells, double MedianFactor, double Factor95);

/// <summary>The class that every place of a map was taken for.</summary>
public sealed record AsIfFacts(string Covariate, string Class);

/// <summary>The error at places kept from the model, by how many sites it learnt from.</summary>
public sealed record LearningFacts(double Sites, double Rmse);

/// <summary>One line of the card that is plain text or a number.</summary>
public sealed record CardLine(string Name, string Value);

/// <summary>A model's card as it lies in its folder, whichever version wrote it: what is there is shown, what is not is left out.</summary>
public sealed record ModelFolder(
    string Folder, string? ReleaseId, string? Winner, bool? BeatsBaseline, IReadOnlyList<CandidateFacts> Candidates,
    IReadOnlyList<ImportanceFacts> Importance, IReadOnlyList<RangeFacts> Covariates, IReadOnlyList<ExcludedUseFacts> NotFor,
    IReadOnlyList<CardLine> Lines)
{
    /// <summary>The card's own verdict on the model, in a sentence; missing where it gives none.</summary>
    public string? Verdict { get; init; }

    /// <summary>What supports the model: learned, baseline or none; missing where the card does not say.</summary>
    public string? Support { get; init; }

    public IReadOnlyList<LeftOutFacts> LeftOut { get; init; } = [];

    /// <summary>Level that the interval was made for; missing where there is none.</summary>
    public double? IntervalLevel { get; init; }

    public IReadOnlyList<CoverageFacts> Coverage { get; init; } = [];

    /// <summary>Missing where no training row rests on noted burials.</summary>
    public NotedFacts? WithoutNoted { get; init; }

    /// <summary>Whether the card says how the model stands without noted burials; one of an earlier form does not.</summary>
    public bool SaysOfNoted { get; init; }

    public IReadOnlyList<EffectFacts> Effects { get; init; } = [];

    private static readonly JsonElement Nothing = JsonDocument.Parse("{}").RootElement;

    public IReadOnlyList<LearningFacts> Learning { get; init; } = [];

    /// <summary>Half the interval where nothing is unlike, and what each unit of unlikeness adds; missing where there is none.</summary>
    public (double Least, double Slope)? HalfInterval { get; init; }

    /// <summary>How unlike a place may be for the model to apply; missing where the card does not say.</summary>
    public double? MostUnlike { get; init; }

    /// <summary>What it was tried on.</summary>
    public IReadOnlyList<HeldOutFacts> HeldOut { get; init; } = [];

    /// <summary>Files for download, in order of name.</summary>
    public IReadOnlyList<string> Files { get; } =
        [.. Directory.EnumerateFiles(Folder).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal)];

    /// <summary>By site the mean over its campaigns of what was predicted while it was kept from the model: ln k, or S.</summary>
    internal IReadOnlyDictionary<string, double> Unseen => HeldOut.GroupBy(r => r.SiteKey, StringComparer.Ordinal)
        .ToDictionary(g => g.Key, g => g.Average(r => r.Predicted), StringComparer.Ordinal);

    /// <exception cref="PagesException">The card is no JSON, or not of the form of a card.</exception>
    public static ModelFolder? Read(string folder)
    {
        string path = Path.Combine(folder, "card.json");
        if (!File.Exists(path))
            return null;
        try
        {
            using JsonDocument card = JsonDocument.Parse(File.ReadAllBytes(path));
            JsonElement root = card.RootElement;
            // a later form of the card keeps what was found out about the model under findings
            JsonElement found = root.TryGetProperty("findings", out JsonElement findings) && findings.ValueKind == JsonValueKind.Object
                ? findings : root;
            JsonElement interval = Part(found, "interval");
            RangeFacts[] covariates = Items(root, "covariates", c => new RangeFacts(
                Say(c, "name"), Say(c, "unit"), Say(c, "title"), Number(c, "training_minimum"), Number(c, "training_maximum"))
            {
                Classes = Texts(Part(c, "classes"), "names"),
            });
            return new ModelFolder(
                folder, Text(root, "release_id"), Text(root, "winner"),
                root.TryGetProperty("beats_baseline", out JsonElement beats) && beats.ValueKind is JsonValueKind.True or JsonValueKind.False
                    ? beats.GetBoolean() : Text(root, "support") is { } support ? support != "none" : null,
                Items(root, "scores", s => new CandidateFacts(Say(s, "name"), Title(s, "name"), Score(s, "blocked", "rmse"),
                    Score(s, "blocked", "r2"), Score(s, "random", "rmse"), Score(s, "random", "r2"))),
                Items(found, "importance",
                    i => new ImportanceFacts(Say(i, "covariate"), Number(i, "rmse_increase"), Number(i, "standard_deviation"))),
                covariates,
                Items(root, "not_for", x => x.ValueKind == JsonValueKind.String ? new ExcludedUseFacts(null, x.GetString()!)
                    : new ExcludedUseFacts(Text(x, "code"), Say(x, "sentence"))),
                [.. root.EnumerateObject().Where(p => p.Value.ValueKind
                    is JsonValueKind.String or JsonValueKind.Number or JsonValueKind.True or JsonValueKind.False)
                    .Select(p => new CardLine(p.Name, p.Value.ToString()))])
            {
                Verdict = Text(root, "verdict"),
                Support = Text(root, "support"),
                LeftOut = Items(root, "left_out", l => new LeftOutFacts(Say(l, "name"), Title(l, "name"), Say(l, "reason"))),
                IntervalLevel = Number(interval, "level"),
                HalfInterval = Number(interval, "quantile") is { } quantile && Number(interval, "base") is { } least
                    && Number(interval, "slope") is { } slope ? (quantile * least, quantile * slope) : null,
                MostUnlike = Number(Part(found, "applicability"), "threshold"),
                Learning = [.. Items(found, "learning_curve", p => (Sites: Number(p, "mean_sites"), Rmse: Number(p, "rmse")))
                    .Where(p => p is { Sites: not null, Rmse: not null }).Select(p => new LearningFacts(p.Sites!.Value, p.Rmse!.Value))],
                HeldOut = HeldOutFacts.Read(folder, [.. covariates.Where(c => c.Classes.Count == 0).Select(c => c.Name)]),
                Coverage = Items(found, "coverage", c => new CoverageFacts(
                    Say(c, "group"), Title(c, "group"), (int)(Number(c, "rows") ?? 0), Number(c, "share"))),
                SaysOfNoted = found.TryGetProperty("without_noted", out JsonElement noted),
                WithoutNoted = noted.ValueKind != JsonValueKind.Object ? null : new NotedFacts(
                    (int)(Number(noted, "rows") ?? 0), Number(noted, "rmse"), Number(noted, "rmse_without"),
                    Number(noted, "median_shift"), Number(noted, "shift95")),
                Effects = [.. Items(found, "effects",
                    e => new EffectFacts(Say(e, "covariate"), [.. Numbers(e, "values").Zip(Numbers(e, "effects"))])
                    {
                        Classes = Texts(e, "classes"),
                    })
                    .Where(e => e.Points.Count > 1)],
            };
        }
        // the second is the library's answer to a null where an object is expected
        catch (Exception e) when (e is JsonException or InvalidOperationException)
        {
            throw new PagesException($"{path} can't be read as a model card; delete its folder and run again.", e);
        }
    }

    private static double? Score(JsonElement candidate, string folds, string measure) =>
        candidate.TryGetProperty(folds, out JsonElement scores) && scores.TryGetProperty("pooled", out JsonElement pooled)
        ? Number(pooled, measure) : null;

    // what is asked of a part that is not there is not there either
    private static JsonElement Part(JsonElement whole, string name) =>
        whole.TryGetProperty(name, out JsonElement part) && part.ValueKind == JsonValueKind.Object ? part : Nothing;

    private static T[] Items<T>(JsonElement root, string name, Func<JsonElement, T> read) =>
        root.TryGetProperty(name, out JsonElement list) && list.ValueKind == JsonValueKind.Array
            ? [.. list.EnumerateArray().Select(read)] : [];

    private static IEnumerable<double> Numbers(JsonElement item, string name) =>
        Items(item, name, v => v).Where(v => v.ValueKind == JsonValueKind.Number).Select(v => v.GetDouble());

    private static string[] Texts(JsonElement item, string name) =>
        [.. Items(item, name, v => v).Where(v => v.ValueKind == JsonValueKind.String).Select(v => v.GetString()!)];

    private static string? Text(JsonElement item, string name) =>
        item.TryGetProperty(name, out JsonElement value) && value.ValueKind == JsonValueKind.String ? value.GetString() : null;

    private static string Say(JsonElement item, string name) => Text(item, name) ?? "";

    private static string Title(JsonElement item, string nameElse) => Text(item, "title") ?? Say(item, nameElse);

    private static double? Number(JsonElement item, string name) =>
        item.TryGetProperty(name, out JsonElement value) && value.ValueKind == JsonValueKind.Number ? value.GetDouble() : null;
}
