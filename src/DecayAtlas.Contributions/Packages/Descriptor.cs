using System.Globalization;
using System.Text;
using System.Text.Json;

namespace DecayAtlas.Contributions.Packages;

internal sealed record Descriptor(ContributionHeader Header, IReadOnlyDictionary<string, string> FileByTable)
{
    private const long MostBytes = 1 << 20;

    public static Descriptor? Read(Package package, PackageSurvey survey, FindingList findings)
    {
        PackageFile? file = package.Find(SchemaCatalogue.DescriptorName);
        if (file is null)
        {
            findings.Add(FindingCode.DescriptorMissing, SchemaCatalogue.DescriptorName, "no such file",
                "a data package descriptor of this name at the top of the contribution",
                "write one; the example contribution of the schema shows how");
            return null;
        }
        if (survey.NotText.Contains(SchemaCatalogue.DescriptorName))
            return null;
        if (file.Bytes > MostBytes)
        {
            findings.Add(FindingCode.FileTooLarge, SchemaCatalogue.DescriptorName, Invariant($"{file.Bytes} bytes"),
                Invariant($"at most {MostBytes} bytes"), "leave out of the descriptor what does not describe the contribution");
            return null;
        }
        using JsonDocument? document = Parse(file, findings);
        if (document is null)
            return null;
        return DescriptorCheck.Check(document.RootElement, findings) ? From(document.RootElement, package, survey, findings) : null;
    }

    private static JsonDocument? Parse(PackageFile file, FindingList findings)
    {
        try
        {
            ReadOnlyMemory<byte> json = file.Load().ToArray();
            if (json.Span.StartsWith(Encoding.UTF8.Preamble))
                json = json[Encoding.UTF8.Preamble.Length..];
            int before = findings.Count;
            JsonLetters.Check(json.Span, SchemaCatalogue.DescriptorName, findings);
            return findings.Count > before ? null : JsonDocument.Parse(json, new JsonDocumentOptions { AllowDuplicateProperties = false });
        }
        catch (JsonException fault)
        {
            findings.Add(new Finding(FindingCode.DescriptorBroken, SchemaCatalogue.DescriptorName, (int?)fault.LineNumber + 1, null,
                "text that is not JSON or names a property twice", "a JSON object",
                "mend the JSON at this line; commas, quotes and brackets are the usual causes"));
            return null;
        }
    }

    private static Descriptor From(JsonElement root, Package package, PackageSurvey survey, FindingList findings)
    {
        ContributionHeader header = HeaderOf(root, survey.ContentHash, findings);
        Dictionary<string, string> fileByTable = [];
        foreach (JsonElement resource in root.GetProperty("resources").EnumerateArray())
        {
            string table = resource.GetProperty("name").GetString()!;
            string path = resource.GetProperty("path").GetString()!;
            if (!fileByTable.TryAdd(table, path))
            {
                findings.Add(new Finding(FindingCode.DescriptorInvalid, SchemaCatalogue.DescriptorName, null,
                    "/resources", $"the table {table} twice", "each table once", "put all rows of the table into one file"));
            }
        }
        CheckFiles(package, fileByTable, findings);
        return new Descriptor(header, fileByTable);
    }

    public static ContributionHeader HeaderOf(JsonElement root, string contentHash, FindingList findings)
    {
        JsonElement licence = root.GetProperty("licenses")[0];
        return new ContributionHeader(root.GetProperty("name").GetString()!,
            root.Child("revision") is { ValueKind: JsonValueKind.Number } revision ? (int)revision.GetDouble() : 1,
            root.GetProperty("contributor").GetString()!, root.GetProperty("campaign").GetString()!,
            root.GetProperty("protocol").GetString()!, Created(root, findings),
            licence.TextOf("name") ?? licence.GetProperty("path").GetString()!, contentHash);
    }

    private static DateOnly? Created(JsonElement root, FindingList findings)
    {
        if (root.TextOf("created") is not { } text)
            return null;
        if (DateOnly.TryParseExact(text.AsSpan(0, 10), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day))
            return day;
        findings.Add(new Finding(FindingCode.DateImpossible, SchemaCatalogue.DescriptorName, null, "/created", FindingText.Quote(text),
                "a day that exists, written YYYY-MM-DD", "correct the date"));
        return null;
    }

    private static void CheckFiles(Package package, Dictionary<string, string> fileByTable, FindingList findings)
    {
        foreach ((string table, string path) in fileByTable)
        {
            if (package.Find(path) is not null)
                continue;
            PackageFile? near = package.Files.FirstOrDefault(file => string.Equals(file.Path, path, StringComparison.OrdinalIgnoreCase));
            findings.Add(FindingCode.FileMissing, path, "no such file",
                $"the file of the table {table}, which {SchemaCatalogue.DescriptorName} names",
                near is null ? "add the file, or correct its path in " + SchemaCatalogue.DescriptorName
                : $"rename {near.Path} to {path}; capitals count");
        }
        foreach (PackageFile file in package.Files)
        {
            if (file.Path.EndsWith(".csv", StringComparison.OrdinalIgnoreCase)
                && !fileByTable.Values.Contains(file.Path, StringComparer.OrdinalIgnoreCase))
            {
                findings.Add(FindingCode.FileNotListed, file.Path, $"a table that {SchemaCatalogue.DescriptorName} does not name",
                    "every table named there",
                    $"name it under resources in {SchemaCatalogue.DescriptorName}, or take it out of the contribution");
            }
        }
    }
}
