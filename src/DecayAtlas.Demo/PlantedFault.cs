using nietras.SeparatedValues;

namespace DecayAtlas.Demo;

/// <summary>One fault put into the demo on purpose, with the code that a good pipeline raises for it.</summary>
/// <param name="ContributionId">The contribution; for one that is to be quarantined, its name in the inbox without <c>.zip</c>.</param>
/// <param name="RecordType">bag, burial, site, lot or contribution.</param>
/// <param name="RecordId">The id in the contribution's own tables.</param>
/// <param name="Code">The flag code, or the finding code for a contribution that is to be quarantined.</param>
/// <param name="What">What was done, in words.</param>
public sealed record PlantedFault(string ContributionId, string RecordType, string RecordId, string Code, string What)
{
    /// <summary>
    /// The code of the fault that this one is a consequence of; null for a fault planted for its own sake. A pipeline may
    /// raise a consequence, and is then right, but need not: it often stops at the first cause.
    /// </summary>
    public string? FollowsFrom { get; init; }

    /// <summary>How large the fault is, where it comes in sizes.</summary>
    public double? Size { get; init; }

    /// <summary>What the size is a size of, with its unit.</summary>
    public string? SizeOf { get; init; }

    /// <summary>The type of a fault of a whole contribution.</summary>
    public const string ContributionRecord = "contribution";
}

/// <summary>Reads <c>truth/planted-faults.csv</c>.</summary>
public static class PlantedFaults
{
    internal const string FileName = "planted-faults.csv";

    /// <summary>Loads the list from the scenario's folder.</summary>
    /// <exception cref="DemoException">The file is missing or is not such a list.</exception>
    public static IReadOnlyList<PlantedFault> Load(string folder)
    {
        string path = Path.Combine(folder, "truth", FileName);
        if (!File.Exists(path))
            throw new DemoException($"There is no {path}; make the scenario first, or name the folder it was made in.");

        try
        {
            using SepReader reader = Sep.New(',').Reader(options => options with { Unescape = true }).FromFile(path);
            List<PlantedFault> faults = new();
            foreach (SepReader.Row row in reader)
            {
                string follows = row["follows_from"].ToString();
                faults.Add(new PlantedFault(
                    row["contribution_id"].ToString(), row["record_type"].ToString(), row["record_id"].ToString(),
                    row["code"].ToString(), row["what"].ToString())
                {
                    FollowsFrom = follows.Length == 0 ? null : follows,
                    Size = row["size"].TryParse<double>(out double size) ? size : null,
                    SizeOf = row["size_of"].ToString() is { Length: > 0 } of ? of : null,
                });
            }

            return faults;
        }
        catch (Exception fault) when (fault is InvalidDataException or KeyNotFoundException or ArgumentException)
        {
            throw new DemoException($"{path} is not a list of planted faults: {fault.Message} Make the scenario again.", fault);
        }
    }
}
