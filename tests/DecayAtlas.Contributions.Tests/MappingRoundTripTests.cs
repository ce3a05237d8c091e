using System.Globalization;
using System.Text;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace DecayAtlas.Contributions.Tests;

/// <summary>What is written as a wide table by a mapping and read back by it is what was written, whatever the dialect.</summary>
public class MappingRoundTripTests
{
    private static readonly string[] Words = ["meadow", "forestry", "pasture", "arable"];
    private static readonly string[] LocalWords = ["Wiese, gemäht", "Forst", "pâturage", "champ \"nord\""];

    /// <summary>How a table is written; every number stands for a choice.</summary>
    private sealed record Dialect(int Seed)
    {
        private int Choice(int digit, int of) => (int)((uint)HashCode.Combine(Seed, digit) % of);

        public (string Name, char Sign) Separator =>
            Choice(1, 3) switch { 0 => ("comma", ','), 1 => ("semicolon", ';'), _ => ("tab", '\t') };

        public bool IsComma => Separator.Sign != ',' && Choice(2, 2) == 0;

        public (string Name, string Format) Date =>
            Choice(3, 4) switch
            {
                0 => ("iso", "yyyy-MM-dd"),
                1 => ("dmy", "dd.MM.yyyy"),
                2 => ("mdy", "M/d/yyyy"),
                _ => ("dmy", "d/M/yyyy")
            };

        public (string Name, decimal Factor) Mass => Choice(4, 3) switch { 0 => ("g", 1m), 1 => ("mg", 1000m), _ => ("kg", 0.001m) };

        public (string Name, decimal Factor) Length => Choice(5, 3) switch { 0 => ("cm", 1m), 1 => ("mm", 10m), _ => ("m", 0.01m) };

        public (string Name, Encoding Encoding) Encoding => Choice(6, 4) switch
        {
            0 => ("utf-8", new UTF8Encoding(false)),
            1 => ("utf-8", new UTF8Encoding(true)),
            2 => ("utf-16", new UnicodeEncoding(false, true)),
            _ => ("windows-1252", CodePagesEncodingProvider.Instance.GetEncoding(1252)!),
        };

        public bool HasDegrees => Choice(7, 2) == 0;

        public bool HasWords => Choice(8, 2) == 0;

        public string Number(decimal value) => IsComma ? Plain(value).Replace('.', ',') : Plain(value);

        public static string Degrees(int seconds, string letters) =>
            string.Create(
                CultureInfo.InvariantCulture, $"{Math.Abs(seconds) / 3600}°{Math.Abs(seconds) / 60 % 60}'{Math.Abs(seconds) % 60}\""
                + $"{letters[seconds < 0 ? 1 : 0]}");

        private static string Plain(decimal value) => value.ToString(CultureInfo.InvariantCulture);
    }

    [Property(MaxTest = 150)]
    public Property A_wide_table_gives_back_what_was_written() => Prop.ForAll(Gen.Choose(0, int.MaxValue - 1).ToArbitrary(), seed =>
    {
        Dialect dialect = new(seed);
        using Example example = new();
        Random random = new(seed);
        string table = Path.Combine(example.Root, "wide.csv");
        File.WriteAllText(SpreadsheetFiles.MappingPathOf(table), Mapping(dialect));
        List<string[]> rows = [["Ort", "Lat", "Lon", "Nutzung", "Bag", "Loch", "vorher", "nachher", "rein", "raus", "tief", "Anm"]];
        using (TableWriter sites = TableWriter.Create(example.FileAt("sites.csv"), SchemaCatalogue.Sites))
        using (TableWriter bags = TableWriter.Create(example.FileAt("bags.csv"), SchemaCatalogue.Bags))
        using (TableWriter samples = TableWriter.Create(example.FileAt("samples.csv"), SchemaCatalogue.Samples))
        {
            for (int site = 0; site < 3; site++)
            {
                // Whole seconds of arc: decimal degrees would not be exact, so both are computed from the same number.
                int latitude = random.Next(-300_000, 300_000), longitude = random.Next(-600_000, 600_000), use = random.Next(Words.Length);
                sites.WriteRow($"s{site}", InDegrees(latitude), InDegrees(longitude), null, null, null, null, Words[use], null, null, null,
                    null, null);
                for (int bag = 0; bag < 4; bag++)
                {
                    decimal before = random.Next(1000, 9999) / 1000m, after = random.Next(0, 999) / 1000m,
                        depth = random.Next(0, 300) / 10m;
                    DateOnly buried = new DateOnly(1990, 1, 1).AddDays(random.Next(12_000));
                    DateOnly? retrieved = random.Next(5) == 0 ? null : buried.AddDays(random.Next(1, 200));
                    string notes = random.Next(3) switch { 0 => "", 1 => "wet; \"very\", é", _ => "=1+1" };
                    string role = bag % 2 == 0 ? "fast" : "slow";
                    bags.WriteRow($"s{site}-{bag}", $"s{site}-h{bag / 2}", $"s{site}", null, null, role == "fast" ? "F-07" : "S-03", role,
                        null,
                        Plain(before), Plain(after), "gross", null, null, null, null, null, null, null, null, Iso(buried),
                        retrieved is { } day ? Iso(day) : null,
                        Plain(depth), null, null, null, null, notes, null, null);
                    rows.Add([$"s{site}", dialect.HasDegrees ? Dialect.Degrees(latitude, "NS")
                        : InDegrees(latitude, dialect), dialect.HasDegrees ? Dialect.Degrees(longitude, "EW")
                        : InDegrees(longitude, dialect),
                        dialect.HasWords ? LocalWords[use] : Words[use], $"{bag}", $"h{bag / 2}",
                        dialect.Number(before * dialect.Mass.Factor), dialect.Number(after * dialect.Mass.Factor),
                        buried.ToString(dialect.Date.Format, CultureInfo.InvariantCulture),
                            retrieved?.ToString(dialect.Date.Format, CultureInfo.InvariantCulture) ?? "n.d.",
                                dialect.Number(depth * dialect.Length.Factor), notes]);
                }
            }
        }
        File.WriteAllText(table, string.Concat(rows.Select(row => string.Join(dialect.Separator.Sign, row.Select(Quoted)) + "\r\n")),
            dialect.Encoding.Encoding);

        ReadResult plain = example.Read();
        ReadResult wide = ContributionReader.Read(table, IntakeLimits.Default);

        Assert.Empty(plain.Findings);
        Assert.True(wide.Findings.Count == 0, string.Join('\n', wide.Findings));
        Assert.Equal(plain.Contribution!.Sites.Select(site => site with { Row = 0 }),
            wide.Contribution!.Sites.Select(site => site with { Row = 0 }));
        Assert.Equal(plain.Contribution.Bags.Select(bag => bag with { Row = 0 }),
            wide.Contribution.Bags.Select(bag => bag with { Row = 0 }));

        string Quoted(string cell) => cell.IndexOfAny(['"', dialect.Separator.Sign]) >= 0
            ? $"\"{cell.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : cell;
    });

    private static string InDegrees(int seconds, Dialect? dialect = null)
    {
        double whole = Math.Abs(seconds) / 3600,
            degrees = whole + (double)(Math.Abs(seconds) / 60 % 60) / 60 + (double)(Math.Abs(seconds) % 60) / 3600;
        string text = (seconds < 0 ? -degrees : degrees).ToString("R", CultureInfo.InvariantCulture);
        return dialect is { IsComma: true } ? text.Replace('.', ',') : text;
    }

    private static string Plain(decimal value) => value.ToString(CultureInfo.InvariantCulture);

    private static string Iso(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string Mapping(Dialect dialect) => $$$"""
        version: 1
        file:
          separator: {{{dialect.Separator.Name}}}
          encoding: {{{dialect.Encoding.Name}}}
          decimal_sign: {{{(dialect.IsComma ? "comma" : "point")}}}
          date_order: {{{dialect.Date.Name}}}
          empty_words: [n.d.]
        one_row_is: bag
        package: { name: wide, contributor: group, campaign: c, protocol: p, licence: CC0-1.0 }
        sites:
          site_id: { column: Ort }
          decimal_latitude: { column: Lat{{{(dialect.HasDegrees ? ", form: degrees-minutes-seconds" : "")}}} }
          decimal_longitude: { column: Lon{{{(dialect.HasDegrees ? ", form: degrees-minutes-seconds" : "")}}} }
          land_use: { column: Nutzung{{{(dialect.HasWords
              ? ", words: { \"Wiese, gemäht\": meadow, Forst: forestry, pâturage: pasture, 'champ \"nord\"': arable }" : "")}}} }
        lots:
          - { lot_id: F-07, role: fast, hydrolysable_fraction: 0.78, hydrolysable_fraction_sd: 0.02 }
          - { lot_id: S-03, role: slow, hydrolysable_fraction: 0.51, hydrolysable_fraction_sd: 0.04 }
        bags:
          bag_id: { pattern: "{Ort}-{Bag}" }
          burial_id: { pattern: "{Ort}-{Loch}" }
          site_id: { column: Ort }
          role: { column: Bag, words: { "0": fast, "1": slow, "2": fast, "3": slow } }
          lot_id: { column: Bag, words: { "0": F-07, "1": S-03, "2": F-07, "3": S-03 } }
          mass_initial_g: { column: vorher, unit: {{{dialect.Mass.Name}}} }
          mass_final_g: { column: nachher, unit: {{{dialect.Mass.Name}}} }
          mass_basis: { value: gross }
          buried_on: { column: rein }
          retrieved_on: { column: raus }
          depth_cm: { column: tief, unit: {{{dialect.Length.Name}}} }
          notes: { column: Anm }
        """;
}
