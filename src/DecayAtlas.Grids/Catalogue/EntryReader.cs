using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Grids.Catalogue;

/// <summary>Reads one entry of a catalogue file and checks what its schema cannot say.</summary>
internal sealed class EntryReader(YamlDocument document, int index, RemoteGrids remote)
{
    private static readonly string[] Makings = ["layers", "months", "series", "derived", "polygons"];

    private readonly JsonObject _grid = document.Root["grids"]![index]!.AsObject();

    public string Name => (string)_grid["name"]!;

    private string At => $"{document.Path}:{document.LineOf($"/grids/{index}")}";

    private string Owner => $"{At}: covariate {Name}";

    /// <summary>Whether it must be read after the entries that it names.</summary>
    public bool IsDerived => Has("derived");

    public IReadOnlyDictionary<string, string> InputNames =>
        Has("inputs") ? _grid["inputs"]!.AsObject().ToDictionary(i => i.Key, i => (string)i.Value!, StringComparer.Ordinal)
        : new Dictionary<string, string>();

    public YamlDocumentException Wrong(string key, string sentence) => document.At($"/grids/{index}/{key}", sentence);

    private YamlDocumentException Wrong(string sentence) => document.At($"/grids/{index}", sentence);

    /// <param name="known">The entries read so far, by name; every input of a derived entry is among them.</param>
    public CatalogueEntry Read(IReadOnlyDictionary<string, CatalogueEntry> known)
    {
        string[] makings = [.. Makings.Where(Has)];
        if (makings.Length > 1)
        {
            throw Wrong(makings[1],
                $"{Name} has both {makings[0]} and {makings[1]}; a covariate is made in one way, so take one of them out.");
        }

        string making = makings.FirstOrDefault() ?? "";
        bool isClass = Text("kind") == "class";
        SamplingRule rule = RuleOf(making, isClass);
        Forbid(making);
        RequirePlainAddresses();
        CatalogueEntry entry = new(
            Name, Text("title")!, PathOf(Text(making == "polygons" ? making : "file") ?? ""), (int?)Number("band") ?? 1, Text("unit")!,
            rule, isClass, Number("valid_within_m"), Number("scale"), Number("offset"), Number("missing"), Text("source"), Text("crs"),
            Text("variable"), SelectOf(_grid))
        {
            DeclaredAt = At,
            Remote = remote,
            Words = Text("words"),
            Classes = ClassesOf(isClass),
        };
        if (entry.Scale == 0)
            throw Wrong("scale", $"{Name} has scale 0, which would make every value the offset; leave it out or state the factor.");

        if (isClass && (making is "layers" or "months" or "series"))
            throw Wrong(making, $"{Name} is of kind class and has {making}; classes are never averaged.");

        return making switch
        {
            "layers" => entry with { Path = "", Making = Profile(rule) },
            "months" => entry with { Making = Climatology(rule) },
            "series" => entry with { Making = new DatedSeries(LayerOf(_grid, "", rule), Statistic(), Number("base"), Text("dimension")) },
            "derived" => entry with { Path = "", Making = new DerivationReader(this, document, index).Read(known, Span(), isClass) },
            "polygons" => entry with { Making = Units() },
            _ => Has("file") ? entry
                : throw Wrong($"{Name} has no file; name the grid file, or layers, months, series, derived or polygons."),
        };
    }

    private Dictionary<double, string>? ClassesOf(bool isClass)
    {
        if (_grid["classes"] is not JsonObject named)
            return null;
        if (!isClass)
            throw Wrong("classes", $"{Name} is of kind continuous and names classes; write kind: class or take classes out.");
        Dictionary<double, string> found = [];
        foreach ((string code, JsonNode? name) in named)
        {
            if (!double.TryParse(code, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) || !double.IsFinite(number))
                throw Wrong("classes", $"{Name} names a class by {code}, expected its code in the grid, a number, as {{ 1: forest }}.");
            if (!found.TryAdd(number, (string)name!))
                throw Wrong("classes", $"{Name} names the class of code {code} twice; take one of them out.");
        }

        return found;
    }

    private SamplingRule RuleOf(string making, bool isClass)
    {
        if (Text("rule") is not { } text)
        {
            return (making is "derived" or "polygons")
                ? SamplingRule.Nearest
                : throw Wrong($"{Name} has no rule; write rule: nearest, bilinear, disc or mode.");
        }

        SamplingRule rule = Enum.Parse<SamplingRule>(text, ignoreCase: true);
        if (isClass && rule is (SamplingRule.Bilinear or SamplingRule.Disc))
        {
            throw Wrong("rule",
                $"{Name} is of kind class and has rule {text}; classes are never interpolated, so write rule: nearest or rule: mode.");
        }

        if (!isClass && rule == SamplingRule.Mode)
            throw Wrong("rule", $"{Name} is of kind continuous and has rule mode, which is for classes; write rule: disc.");

        return making is "polygons" && rule != SamplingRule.Nearest
            ? throw Wrong("rule",
                $"{Name} is a map of units and has rule {text}; a point lies in a unit or not, so write rule: nearest or leave it out.")
            : rule;
    }

    /// <summary>Keys that would say nothing in this kind of entry are mistakes of somebody who meant another.</summary>
    private void Forbid(string making)
    {
        string[] overTime = ["months", "series"], grids = ["", "layers", .. overTime], sampled = [.. grids, "polygons"];
        (string[] Keys, string[] In)[] belonging =
        [
            (["statistic", "base"], overTime), (["over"], ["months", "derived"]), (["dimension"], overTime),
            (["inputs"], ["derived"]), (["attribute", "table"], ["polygons"]), (["words"], ["", "polygons"]),
            (["classes"], [""]), (["file"], grids),
            (["rule", "crs", "valid_within_m"], sampled), (["band"], ["", "layers", "months"]),
            (["variable", "select", "scale", "offset", "missing"], grids),
        ];
        foreach (string key in belonging.Where(b => !b.In.Contains(making)).SelectMany(b => b.Keys).Where(Has))
        {
            throw Wrong(key,
                $"{Name} has {key}, which says nothing in an entry {(making.Length == 0 ? "of one grid" : "with " + making)}; "
                + $"take it out{(key is "statistic" or "base" or "over" or "dimension" ? ", or add months: or series:" : "")}.");
        }
    }

    private void RequirePlainAddresses()
    {
        if (Text("polygons") is { } polygons && RemoteAddress.Is(polygons))
            throw Wrong("polygons", $"{Name} has a map of units at an address; fetch it and name it by its path.");
        for (int i = 0; i < (_grid["layers"]?.AsArray().Count ?? 0); i++)
            RequirePlain($"layers/{i}", (string?)_grid["layers"]![i]!["file"]);
        RequirePlain("file", Text("file") is { } file && Text("months") == "files" ? InMonth(file, 1) : Text("file"));
    }

    private void RequirePlain(string key, string? file)
    {
        if (file is not null && RemoteAddress.Is(file) && RemoteAddress.FaultOf(file) is { } fault)
            throw Wrong(key, $"{Name}: {RemoteAddress.WithoutSecrets(file)} {fault}");
    }

    private SoilProfile Profile(SamplingRule rule)
    {
        JsonArray layers = _grid["layers"]!.AsArray();
        List<(SoilLayer Depth, LayerSource Source, int Index)> found = [];
        for (int i = 0; i < layers.Count; i++)
        {
            JsonObject layer = layers[i]!.AsObject();
            SoilLayer depth = new(Number(layer, "from_cm")!.Value, Number(layer, "to_cm")!.Value);
            string name = $"{depth.TopCentimetres}-{depth.BottomCentimetres} cm";
            if (!(depth.BottomCentimetres > depth.TopCentimetres))
                throw Wrong($"layers/{i}", $"{Name} has a layer from {name}; to_cm must lie below from_cm.");

            if (!layer.ContainsKey("file") && !Has("file"))
                throw Wrong($"layers/{i}", $"the layer {name} of {Name} names no file, and neither does the entry.");

            found.Add((depth, LayerOf(layer, name, rule), i));
        }

        found = [.. found.OrderBy(l => l.Depth.TopCentimetres)];
        for (int i = 1; i < found.Count; i++)
        {
            (SoilLayer Depth, LayerSource Source, int Index) upper = found[i - 1], lower = found[i];
            double between = lower.Depth.TopCentimetres - upper.Depth.BottomCentimetres;
            if (Math.Abs(between) > 1e-9)
            {
                throw Wrong($"layers/{lower.Index}", $"{Name} {(between > 0 ? "has a gap" : "overlaps")} between {upper.Source.Name} "
                    + $"and {lower.Source.Name}; every depth must be in one layer, so correct from_cm and to_cm.");
            }
        }

        return new SoilProfile([.. found.Select(l => l.Depth)], [.. found.Select(l => l.Source)]);
    }

    private MonthlyClimatology Climatology(SamplingRule rule)
    {
        string where = Text("months")!, file = Text("file") ?? throw Wrong("months",
            $"{Name} has months and no file; name the file, or with months: files a pattern such as grids/rain_{{month}}.tif.");
        if (where == "files" != (file.Contains("{month}", StringComparison.Ordinal) || file.Contains("{m}", StringComparison.Ordinal)))
        {
            throw Wrong("file", where == "files"
                ? $"{Name} has months: files and a file without {{month}}; write {{month}} (01 to 12) or {{m}} (1 to 12) where the "
                + "month stands in the names."
                : $"{Name} has a file with {{month}}, and months: {where}; write months: files.");
        }

        LayerSource whole = LayerOf(_grid, "", rule);
        LayerSource[] months = [.. Enumerable.Range(1, 12).Select(m => Month(whole, where, m))];
        string[] absent = where == "files"
            ? [.. months.Where(m => !RemoteAddress.Is(m.Path) && !File.Exists(m.Path)).Select(m => Path.GetFileName(m.Path))] : [];
        if (absent.Length > 0)
        {
            throw Wrong("file", $"{Name} lacks {absent.Length} of its twelve months: there is no {string.Join(", ", absent)} in "
                + $"{Path.GetDirectoryName(months[0].Path)}.");
        }

        return new MonthlyClimatology(months, Statistic(), Number("base"), Span());
    }

    private LayerSource Month(LayerSource whole, string where, int month)
    {
        LayerSource named = whole with { Name = $"month {month}" };
        return where switch
        {
            "files" => named with
            {
                Path = InMonth(whole.Path, month),
            },
            "bands" => named with { Options = whole.Options with { Band = whole.Options.Band + month - 1 } },
            _ => named with { Options = whole.Options.At(Text("dimension") ?? "time", named.Name) },
        };
    }

    private static string InMonth(string file, int month) =>
        file.Replace("{month}", $"{month:00}", StringComparison.Ordinal).Replace("{m}", $"{month}", StringComparison.Ordinal);

    private OneLayer Units() =>
        new(new LayerSource("", PathOf(Text("polygons")!), new GridReadOptions(Crs: Text("crs")), SamplingRule.Nearest,
            Number("valid_within_m"))
        {
            Attribute = Text("attribute")
            ?? throw Wrong("polygons", $"{Name} has polygons and no attribute; name the attribute of the units that is wanted."),
            Table = Text("table"),
            Owner = Owner,
        });

    private TimeStatistic Statistic()
    {
        TimeStatistic statistic = Text("statistic") switch
        {
            "mean" => TimeStatistic.Mean,
            "sum" => TimeStatistic.Sum,
            "degree_days" => TimeStatistic.DegreeDays,
            _ => throw Wrong($"{Name} does not say what is taken over time; write statistic: mean (temperatures), sum (totals such as "
                + "precipitation) or degree_days."),
        };
        if (statistic == TimeStatistic.DegreeDays == Has("base"))
            return statistic;

        throw Has("base")
            ? Wrong("base", $"{Name} has a base, which only degree_days need.")
            : Wrong("statistic", $"{Name} has degree_days and no base; state the temperature above which they count, such as base: 5.");
    }

    private TimeSpanned Span() => Text("over") == "year" ? TimeSpanned.Year : TimeSpanned.Exposure;

    // What a layer leaves out it has from the entry.
    private LayerSource LayerOf(JsonObject layer, string name, SamplingRule rule) => new(
        name,
        PathOf((string?)layer["file"] ?? Text("file") ?? throw Wrong("series", $"{Name} has no file; name the NetCDF file.")),
        new GridReadOptions(
            (int?)Number(layer, "band") ?? (int?)Number("band") ?? 1, Number(layer, "scale") ?? Number("scale"),
            Number(layer, "offset") ?? Number("offset"), Number(layer, "missing") ?? Number("missing"), Text("crs"),
            (string?)layer["variable"] ?? Text("variable"), SelectOf(layer) ?? SelectOf(_grid))
        {
            Remote = remote,
        },
        rule, Number("valid_within_m"))
    {
        Owner = Owner,
    };

    private bool Has(string key) => _grid[key] is not null;

    private string? Text(string key) => (string?)_grid[key];

    private double? Number(string key) => Number(_grid, key);

    private string PathOf(string file) => file.Length == 0 || RemoteAddress.Is(file) ? file
        : Path.Combine(Path.GetDirectoryName(Path.GetFullPath(document.Path))!, file);

    private static Dictionary<string, string>? SelectOf(JsonObject node) =>
        node["select"]?.AsObject().ToDictionary(step => step.Key, step => step.Value!.ToString());

    // A number may have been written as a whole number or as a fraction.
    private static double? Number(JsonObject node, string key) => node[key] switch
    {
        null => null,
        JsonValue value when value.TryGetValue(out long whole) => whole,
        JsonNode value => (double)value,
    };
}
