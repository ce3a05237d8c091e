namespace DecayAtlas.Pipeline.Work;

/// <summary>Which columns rows have: those of a program with other columns can't be read.</summary>
internal static class RowLayout
{
    public static string Identity { get; } = WorkKey.Of(AtlasTables.All.SelectMany(t =>
        (string[])[t.Name, .. t.PartitionedBy, .. t.ColumnInfos.SelectMany(c => new[] { c.Name, c.Type })]));
}

/// <summary>The computed rows of contributors, one file a key.</summary>
internal sealed class RowMemory(AtlasFolder atlas)
{
    private string PathOf(string key) => Path.Combine(atlas.Cache, "rows", key + ".rows");

    public void Save(string key, ContributorRows rows)
    {
        string path = PathOf(key);
        DurableFile.Guard(path, () => DurableFile.WriteLazily(path, stream => RowFile.Write(stream, rows)));
    }

    /// <summary>The rows that go to one file of a release; <see langword="null"/> where they are not there or not whole.</summary>
    public RowRun? Load(string key, string file)
    {
        string path = PathOf(key);
        if (!File.Exists(path))
            return null;
        using FileStream stream = File.OpenRead(path);
        return RowFile.Read(stream, file);
    }

    /// <summary>Deletes the rows of all other keys.</summary>
    public void KeepOnly(IEnumerable<string> keys)
    {
        string folder = Path.Combine(atlas.Cache, "rows");
        if (!Directory.Exists(folder))
            return;
        HashSet<string> kept = [.. keys.Select(k => k + ".rows")];
        foreach (string file in Directory.EnumerateFiles(folder).Where(f => !kept.Contains(Path.GetFileName(f))))
            File.Delete(file);
    }
}
