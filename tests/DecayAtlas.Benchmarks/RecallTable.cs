using System.Globalization;
using System.Text;
using System.Text.Json;

namespace DecayAtlas.Benchmarks;

/// <summary>Which planted faults are found, by family and by size, over several invented scenarios: writes docs/found-faults.md.</summary>
internal static class RecallTable
{
    public static int Run(int seeds, string? target)
    {
        string work = Directory.CreateTempSubdirectory("decayatlas-recall-").FullName;
        try
        {
            Tally every = new(), graded = new();
            for (int seed = 1; seed <= seeds; seed++)
            {
                every.Add(Score(work, seed, "every"));
                graded.Add(Score(work, seed, "graded"));
            }

            string page = Page(seeds, every, graded);
            Console.Write(page);
            if (target is not null)
                File.WriteAllText(target, page);
            return 0;
        }
        finally
        {
            Directory.Delete(work, recursive: true);
        }
    }

    private static JsonElement Score(string work, int seed, string faults)
    {
        string folder = Directory.CreateDirectory(Path.Combine(work, $"{faults}-{seed}")).FullName,
            configuration = Path.Combine(folder, "run.yaml");
        File.WriteAllText(configuration, string.Create(CultureInfo.InvariantCulture, $"""
            version: 1
            demo:
              folder: scenario
              seed: {seed}
              faults: {faults}
            atlas: atlas
            inbox: scenario/inbox
            grids: scenario/grids.yaml
            countries: scenario/countries.geojson

            """));
        using System.Diagnostics.Process process =
            System.Diagnostics.Process
                .Start(new System.Diagnostics.ProcessStartInfo(
                    "dotnet", [Path.Combine(AppContext.BaseDirectory, "decayatlas.dll"), "run", configuration, "--json"])
                {
                    RedirectStandardOutput = true,
                })!;
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        Directory.Delete(folder, recursive: true);
        return JsonDocument.Parse(output).RootElement.GetProperty("demo").GetProperty("faults");
    }

    private static string Page(int seeds, Tally every, Tally graded)
    {
        StringBuilder text = new();
        text.Append(CultureInfo.InvariantCulture, $"""
            # Which faults are found

            Made by `dotnet run --project tests/DecayAtlas.Benchmarks -c Release -- recall {seeds} docs/found-faults.md`. Every number comes from invented
            data: {seeds} scenarios of about 1600 burials in 45 contributions, each with its own islands, sites and faults. Real data scatter otherwise, and the
            faults in it are not those that we thought of.

            ## Every family

            A few faults of each kind, of a size that ought to be seen. Most of these rules look for what can't be, so that finding it is no feat; the
            sound records beside them are what the table is for. A false flag is one on a record with no fault, and with no consequence of one; notes count.

            | family | planted | found | false flags |
            | --- | ---: | ---: | ---: |

            """);
        foreach ((string family, int[] counts) in every.ByFamily)
        {
            text.Append(
                CultureInfo.InvariantCulture, $"| {family} | {counts[0]} | {counts[1]} | {(family == "intake" ? "" : counts[2])} |\n");
        }

        text.Append(CultureInfo.InvariantCulture, $"""

            Sound records: {every.Sound}; with a suspect or reject flag: {every.SoundFlagged} ({every.SoundFlagged
                / (double)every.Sound:0.00%}).

            ## Faults that only show among others

            The same scenarios without the other faults, and with faults in steps of size, from next to nothing to gross.

            | code | planted | found | false flags |
            | --- | ---: | ---: | ---: |

            """);
        foreach ((string code, int[] counts) in graded.ByCode.Where(c => graded.BySize.Keys.Any(s => s.Code == c.Key)))
            text.Append(CultureInfo.InvariantCulture, $"| {code} | {counts[0]} | {counts[1]} | {counts[2]} |\n");
        text.Append("\n| code | size | of | planted | found | share |\n| --- | ---: | --- | ---: | ---: | ---: |\n");
        foreach (((string code, double size, string of), int[] counts) in graded.BySize)
        {
            text.Append(
                CultureInfo.InvariantCulture, $"| {code} | {size} | {of} | {counts[0]} | {counts[1]} | "
                + $"{counts[1] / (double)counts[0]:0%} |\n");
        }

        text.Append("""

            How to read it: a balance is judged by 40 to 100 bags filled to 4 g with a standard deviation of 0.1 g; sites differ by 0.12 in ln k beyond what the
            covariates explain, burials of a site by 0.10 in ln k and 0.012 in S. Odd burials by `multivariate-outlier` were planted at sites with three or
            four burials, where no test on the site alone can tell; those by `replicate-outlier` at sites with five to eight.

            """);
        return text.ToString().ReplaceLineEndings("\n");
    }

    /// <summary>Scores of several scenarios added up.</summary>
    private sealed class Tally
    {
        public SortedDictionary<string, int[]> ByFamily { get; } = new(StringComparer.Ordinal);

        public SortedDictionary<string, int[]> ByCode { get; } = new(StringComparer.Ordinal);

        public SortedDictionary<(string Code, double Size, string Of), int[]> BySize { get; } = [];

        public int Sound { get; private set; }

        public int SoundFlagged { get; private set; }

        public void Add(JsonElement score)
        {
            foreach (JsonElement family in score.GetProperty("by_family").EnumerateArray())
                Add(ByFamily, family.GetProperty("name").GetString()!, family, "false_flags");
            foreach (JsonElement code in score.GetProperty("by_code").EnumerateArray())
                Add(ByCode, code.GetProperty("name").GetString()!, code, "false_flags");
            foreach (JsonElement size in score.GetProperty("by_size").EnumerateArray())
            {
                Add(BySize, (size.GetProperty("code").GetString()!, size.GetProperty("size").GetDouble(), size.GetProperty("size_of")
                    .GetString()!), size, null);
            }

            Sound += score.GetProperty("sound_records").GetInt32();
            SoundFlagged += score.GetProperty("sound_records_flagged").GetInt32();
        }

        private static void Add<TKey>(SortedDictionary<TKey, int[]> counts, TKey key, JsonElement from, string? falseFlags)
            where TKey : notnull
        {
            if (!counts.TryGetValue(key, out int[]? count))
                counts[key] = count = new int[3];
            count[0] += from.GetProperty("planted").GetInt32();
            count[1] += from.GetProperty("found").GetInt32();
            count[2] += falseFlags is null ? 0 : from.GetProperty(falseFlags).GetInt32();
        }
    }
}
