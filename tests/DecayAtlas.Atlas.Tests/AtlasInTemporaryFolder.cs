using DuckDB.NET.Data;

namespace DecayAtlas.Atlas.Tests;

/// <summary>An empty atlas that goes away after the test, and DuckDB to read it with: a reader that is not ours.</summary>
public abstract class AtlasInTemporaryFolder : IDisposable
{
    private readonly string _root = Directory.CreateTempSubdirectory("decayatlas-atlas-").FullName;

    internal AtlasFolder Atlas => new(Path.Combine(_root, "atlas"));

    internal AtlasFolder Other => new(Path.Combine(_root, "other"));

    internal ReleaseOutcome Publish(double fastFinal = 0.95, AtlasFolder? atlas = null, ReleaseStatement? statement = null)
    {
        atlas ??= Atlas;
        return new ReleaseWriter(atlas).Publish(Files(atlas, Given.Rows(fastFinal)), statement ?? Given.Statement);
    }

    /// <summary>Writes the parts of a release of one contributor.</summary>
    internal static IReadOnlyList<ReleaseFile> Files(AtlasFolder atlas, ContributorRows rows)
    {
        PartWriter writer = new(atlas);
        List<ReleaseFile> files = [.. rows.Select(f => writer.Write(f.Key, [f.Value]))];
        files.AddRange(AtlasTables.All.Where(t => files.All(f => f.Table != t.Name)).Select(writer.WriteEmpty).ToArray());
        files.Add(writer.WriteGeoJson(files.Where(f => f.Table is "sites" or "site_campaigns")));
        return files;
    }

    internal List<object?[]> Query(string sql)
    {
        using DuckDBConnection connection = new("DataSource=:memory:");
        connection.Open();
        using DuckDBCommand command = connection.CreateCommand();
        command.CommandText = sql.Replace("$current", Atlas.Current, StringComparison.Ordinal);
        using DuckDBDataReader reader = command.ExecuteReader();
        List<object?[]> rows = new();
        while (reader.Read())
            rows.Add([.. Enumerable.Range(0, reader.FieldCount).Select(i => reader.IsDBNull(i) ? null : reader.GetValue(i))]);
        return rows;
    }

    internal static Dictionary<string, string> Bytes(string folder) => Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories)
        .ToDictionary(f => Path.GetRelativePath(folder, f),
            f => Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(f))));

    public void Dispose()
    {
        Directory.Delete(_root, recursive: true);
        GC.SuppressFinalize(this);
    }
}
