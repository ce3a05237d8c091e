using System.Text.Json;

namespace DecayAtlas.Atlas.Releases;

/// <param name="Parts">Parts that no kept release holds.</param>
/// <param name="Models">Models trained on releases that go, the current one never.</param>
/// <param name="Runs">Run records beyond those kept.</param>
public sealed record Pruned(IReadOnlyList<string> Releases, IReadOnlyList<string> Parts, IReadOnlyList<string> Models,
    IReadOnlyList<string> Maps, IReadOnlyList<string> Runs);

/// <summary>
/// Retention: keeps the newest releases and the current one, and what belongs to them. A release that is kept is never touched: it
/// has links to its parts of its own. Intake and quarantine are not pruned; they are the only copy of what was received.
/// </summary>
public sealed class Pruning(AtlasFolder atlas)
{
    /// <param name="keepReleases">How many of the newest releases stay (at least 1); the current one stays besides.</param>
    /// <param name="keepRuns">How many of the newest run records stay.</param>
    public Pruned Plan(int keepReleases, int keepRuns)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(keepReleases, 1);
        ArgumentOutOfRangeException.ThrowIfNegative(keepRuns);
        IReadOnlyList<ReleaseName> releases = atlas.ReleaseNames();
        HashSet<ReleaseName> kept = [.. releases.TakeLast(keepReleases)];
        if (atlas.CurrentRelease() is { } current)
            kept.Add(current);
        HashSet<string> keptIds = [.. kept.Select(r => r.Id)];

        HashSet<string> inUse = [.. kept.SelectMany(PartsOf)];
        string[] models = [.. NamesOf(atlas.Models, Directory.EnumerateDirectories)
            .Where(m => !keptIds.Contains(ReleaseOfModel(m) ?? "") && !MadeFolder.CurrentIdsOf(atlas.Models).Contains(m))];
        return new Pruned(
            [.. releases.Where(r => !kept.Contains(r)).Select(r => r.ToString())],
            [.. NamesOf(atlas.Parts, Directory.EnumerateFiles).Where(p => !inUse.Contains(Path.GetFileNameWithoutExtension(p)))],
            models,
            [.. NamesOf(atlas.Maps, Directory.EnumerateDirectories)
                .Where(map => models.Any(m => map.StartsWith(m + "-", StringComparison.Ordinal))
                    && !MadeFolder.CurrentIdsOf(atlas.Maps).Contains(map))],
            [.. NamesOf(atlas.Runs, Directory.EnumerateFiles).Where(r => r.EndsWith(".json", StringComparison.Ordinal))
                .SkipLast(keepRuns)]);
    }

    /// <summary>Takes away what the plan names. Killed midway it has taken away a part of it, and can be run again.</summary>
    /// <exception cref="StorageException">Something can't be deleted.</exception>
    public void Carry(Pruned plan) => DurableFile.Guard(atlas.Releases + Path.DirectorySeparatorChar, () =>
    {
        foreach (string map in plan.Maps)
            DeleteFolder(atlas.Maps, map);
        foreach (string model in plan.Models)
            DeleteFolder(atlas.Models, model);
        foreach (string release in plan.Releases)
            DeleteFolder(atlas.Releases, release);
        foreach (string part in plan.Parts)
            File.Delete(Path.Combine(atlas.Parts, part));
        foreach (string run in plan.Runs)
            File.Delete(Path.Combine(atlas.Runs, run));
    });

    private IEnumerable<string> PartsOf(ReleaseName release)
    {
        string sums = Path.Combine(atlas.FolderOf(release), ReleaseWriter.ChecksumsName);
        // a kept release that can't be read: better keep every part than lose one
        return File.Exists(sums)
            ? File.ReadLines(sums).Where(l => l.Length > 64).Select(l => l[..64])
            : NamesOf(atlas.Parts, Directory.EnumerateFiles).Select(p => Path.GetFileNameWithoutExtension(p));
    }

    private string? ReleaseOfModel(string model)
    {
        try
        {
            using JsonDocument card = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(atlas.Models, model, "card.json")));
            return card.RootElement.TryGetProperty("release_id", out JsonElement id) ? id.GetString() : null;
        }
        catch (Exception e) when (e is IOException or JsonException or InvalidOperationException)
        {
            return null;
        }
    }

    // renamed first, so that a reader never sees half a release under its name
    private static void DeleteFolder(string parent, string name)
    {
        string leaving = Path.Combine(parent, ".making-" + name);
        Directory.Move(Path.Combine(parent, name), leaving);
        Directory.Delete(leaving, recursive: true);
    }

    private static string[] NamesOf(string folder, Func<string, IEnumerable<string>> list) => Directory.Exists(folder)
        ? [.. list(folder).Select(p => Path.GetFileName(p)!)
            .Where(n => !n.StartsWith('.') && !n.StartsWith("current", StringComparison.Ordinal)).Order(StringComparer.Ordinal)]
        : [];
}
