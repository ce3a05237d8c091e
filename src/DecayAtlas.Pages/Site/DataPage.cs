using System.Text.Json;

namespace DecayAtlas.Pages.Site;

/// <summary>The data: what each table holds, where it lies, how to read it, how to cite it.</summary>
internal static class DataPage
{
    public const string Path = "data.html";

    private const string Sql =
        """
        -- DuckDB, started in the folder of the release
        SELECT ecosystem, count(*) AS burials, exp(avg(ln(k_per_day))) AS k_per_day
        FROM read_parquet('burials/**/*.parquet', hive_partitioning = true) AS b
        JOIN read_parquet('sites/**/*.parquet', hive_partitioning = true) AS s USING (site_key)
        WHERE b.use = 'accepted' AND k_per_day > 0
        GROUP BY ecosystem ORDER BY ecosystem;
        """;

    private const string Python =
        """
        # pip install duckdb pandas
        import duckdb
        burials = duckdb.sql("SELECT * FROM read_parquet('burials/**/*.parquet', hive_partitioning = true)").df()
        accepted = burials[burials["use"] == "accepted"]
        """;

    private const string R =
        """
        # install.packages(c("arrow", "dplyr"))
        library(arrow); library(dplyr)
        accepted <- open_dataset("burials", hive_style = TRUE) |> filter(use == "accepted") |> collect()
        """;

    public static string Write(Page page, PagesInputs inputs)
    {
        Language words = page.Words;
        ColumnWords meanings = ColumnWords.Of(words);
        string release = inputs.ReleaseFolder, descriptor = System.IO.Path.Combine(release, "datapackage.json");
        using JsonDocument package = JsonDocument.Parse(File.Exists(descriptor) ? File.ReadAllBytes(descriptor) : "{}"u8.ToArray());
        JsonElement root = package.RootElement;
        IReadOnlyDictionary<string, int> rows = root.TryGetProperty("resources", out _) ? ReleaseRows.In(root)
            : new Dictionary<string, int>();
        string licences = string.Join(", ", Items(root, "licenses").Select(l => l.GetProperty("name").GetString()!));
        string cite = Cite(inputs.Description, words)
            ?? $"{Text(root, "publisher")}. {Text(root, "title")}. {words.Say("data.release", page.ReleaseId)} {Text(root, "software")}.";
        string[] files = [SiteGeoJson.FileName, "datapackage.json", "CITATION.cff", ReleaseWriter.ChecksumsName];
        (string Address, string Key, string File)[] mapFiles =
        [
            .. FilesOf(inputs.MapFolder, ModelKind.Rate.MapFolder, "data.file.map"),
            .. FilesOf(inputs.StabilisationMapFolder, ModelKind.Stabilisation.MapFolder, "data.file.map-s"),
            .. FilesOf(inputs.Joint?.Folder, ModelKind.JointFolder, "data.file.map-joint"),
        ];

        Markup body = Markup.Of(
            $"""
            <h1>{words["data.title"]}</h1><p class="lead">{words.Say("data.lead", page.ReleaseId)}</p>
            {Downloads(page, inputs)}
            <section><h2>{words["data.files"]}</h2><p>{words["data.files.text"]}</p>
            {Frame.Table(words["data.files"], words.Texts("data.table", "data.rows", "data.download", "data.what"),
                AtlasTables.All, t =>
                [
                    Markup.Of($"<a href=\"#table-{t.Name}\">{t.Name}</a>"),
                    rows.TryGetValue(t.Name, out int n) ? words.Count(n) : words.Missing,
                    Markup.Of($"{Files(page, release, t.Name)}{Csv(page, inputs, t.Name)}"), meanings.Say(t.Name, null, t.Description),
                ], "labelled tables")}
            <ul>{files.Where(f => File.Exists(System.IO.Path.Combine(release, f)))
                .Select(f => Markup.Of($"<li><a href=\"{page.Release}{f}\" download>{f}</a> – {words["data.file." + f]}</li>"))}
            {mapFiles.Select(f => Markup.Of(
                $"""
                <li><a href="{page.Root}{f.Address}{Uri.EscapeDataString(f.File)}" download>{f.File}</a> – {words.FindText(
                    f.Key + System.IO.Path.GetExtension(f.File)) ?? words[f.Key]}</li>

                """))}</ul></section>
            <section><h2>{words["data.read"]}</h2><p>{words["data.read.text"]}</p>
            <h3>SQL</h3>{Code(Sql)}<h3>Python</h3>{Code(Python)}<h3>R</h3>{Code(R)}<p>{words["data.check"]}</p>{Code(
                "sha256sum --check --quiet checksums.sha256")}</section>
            <section id="cite"><h2>{words["data.cite"]}</h2><p>{words["data.cite.text"]}</p><blockquote>{cite}</blockquote><p>{words.Say(
                "data.licences", licences)}</p>{Catalogued(inputs)}</section>
            <section><h2>{words["data.dictionary"]}</h2><p>{words["data.dictionary.text"]}</p>
            {AtlasTables.All.Select(t => Columns(t, words, meanings))}</section>
            """);
        return Frame.Document(page, words["nav.data"], body, "text", ["assets/open.js"]);

        static IEnumerable<(string, string, string)> FilesOf(string? folder, string address, string key) => folder is null ? []
            : Directory.EnumerateFiles(folder).Select(f => System.IO.Path.GetFileName(f)).Order(StringComparer.Ordinal)
                .Select(f => (address, key, f));
    }

    private static string? Cite(ReleaseDescription? release, Language words)
    {
        if (release is null)
            return null;
        string makers = string.Join("; ", release.Creators.Select(c => c.Sorted));
        string year = release.Published is { } day ? $" ({day.Year})" : "", at = release.Address is { } address ? $" {address}" : "";
        string publisher = release.Creators.Any(c => c.Name == release.Publisher) ? "" : $"{release.Publisher}. ";
        return $"{makers}{year}. {release.Title}. {words.Say("data.release", release.Id)} {publisher}{release.Software}.{at}";
    }

    /// <summary>What search engines for data read; the policy of the pages concerns programs, and this is none.</summary>
    private static Markup Catalogued(PagesInputs inputs) => inputs.Description is not { } release ? Markup.None
        : Markup.Trusted("<script type=\"application/ld+json\">\n" + SchemaOrgDataset.Of(release,
            inputs.Downloads.Where(d => !d.Path.Contains('/', StringComparison.Ordinal)).Select(d => new DescribedFile(
                PagesInputs.DownloadFolder + d.Path, FormatOf(d.Path), d.Path, d.Bytes)))
            .ToJsonString(InScript) + "\n</script>");

    // the usual encoder: no letter of it can end a script
    private static readonly JsonSerializerOptions InScript = new() { WriteIndented = true, NewLine = "\n" };

    private static string FormatOf(string path) => System.IO.Path.GetExtension(path) switch
    {
        ".zip" => "application/zip",
        ".gpkg" => "application/geopackage+sqlite3",
        _ => "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    };

    private static Markup Downloads(Page page, PagesInputs inputs)
    {
        Language words = page.Words;
        string[] whole = [ReleaseExports.WholeName, ReleaseExports.BookName, ReleaseExports.PlacesName];
        Markup links = Frame.List(whole.Select(name => (Name: name, File: inputs.Downloads.FirstOrDefault(d => d.Path == name)))
            .Where(d => d.File is not null).Select(d => Markup.Of(
                $"""
                <a href="{page.Root}{PagesInputs.DownloadFolder}{d.Name}" download="litter-bags-{page.ReleaseId}-{d.Name}">{d.Name}</a> ({words.Size(d.File!.Bytes)}) – {words["data.download." + d.Name]}
                """)));
        Markup made = inputs.Downloads.Count > 0 ? links
            : Markup.Of($"<p>{words["data.downloads.none"]}</p>{Code($"decayatlas export FILE --release {page.ReleaseId}")}");
        return Markup.Of(
            $"""
            <section id="downloads"><h2>{words["data.downloads"]}</h2><p>{words["data.downloads.text"]}</p>
            {made}</section>
            """);
    }

    private static Markup Csv(Page page, PagesInputs inputs, string table)
    {
        string path = ReleaseExports.CsvOf(table);
        return Markup.If(inputs.Downloads.Any(d => d.Path == path),
            $" <a href=\"{page.Root}{PagesInputs.DownloadFolder}{path}\" download>{page.Words["data.csv"]}</a>");
    }

    private static Markup Columns(Table table, Language words, ColumnWords meanings)
    {
        Markup columns = Frame.Table(table.Name, words.Texts("data.column", "data.type", "site.unit", "quality.meaning"), table.ColumnInfos,
            c => [Markup.Of($"<code>{c.Name}</code>"), c.Type, c.Unit, meanings.Say(table.Name, c.Name, c.Description)],
            "stacked");
        return Markup.Of(
            $"""
            <details id="table-{table.Name}"><summary><b>{table.Name}</b> <span>{meanings.Say(
                table.Name, null, table.Description)}</span></summary>
            {columns}</details>

            """);
    }

    private static JsonElement[] Items(JsonElement root, string name) =>
        root.TryGetProperty(name, out JsonElement list) ? [.. list.EnumerateArray()] : [];

    private static string Text(JsonElement root, string name) =>
        root.TryGetProperty(name, out JsonElement value) ? value.GetString() ?? "" : "";

    private static Markup Code(string text) => Markup.Of($"<pre tabindex=\"0\"><code>{text.ReplaceLineEndings("\n")}</code></pre>\n");

    private static Markup Files(Page page, string release, string table)
    {
        string folder = System.IO.Path.Combine(release, table);
        string[] files = Directory.Exists(folder)
            ? [.. Directory.EnumerateFiles(folder, "*.parquet", SearchOption.AllDirectories)
                .Select(f => System.IO.Path.GetRelativePath(release, f).Replace('\\', '/')).Order(StringComparer.Ordinal)]
            : [];
        if (files.Length == 0)
            return page.Words.Missing;
        Markup links = Frame.List(files.Select(f => Markup.Of(
            $"<a href=\"{page.Release}{string.Join(
                '/', f.Split('/').Select(Uri.EscapeDataString))}\" download>{f[(table.Length + 1)..]}</a>")));
        return files.Length == 1 ? links
            : Markup.Of($"<details><summary>{page.Words.Say("data.parts", files.Length)}</summary>{links}</details>");
    }
}
