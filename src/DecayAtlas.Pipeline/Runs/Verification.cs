using System.Text.Json;

namespace DecayAtlas.Pipeline.Runs;

/// <summary>Every checksum of an atlas recomputed: releases, parts, models, maps, intake and quarantine. Writes nothing.</summary>
/// <param name="Files">Files of releases, parts, models and maps that were read.</param>
/// <param name="SetAside">Kept copies in the quarantine that were read.</param>
public sealed record Verification(int Files, int Contributions, int SetAside, IReadOnlyList<Rot> Rotten)
{
    /// <param name="withdrawn">Contributions that a decision withdraws: they may be gone.</param>
    public static Verification Of(AtlasFolder atlas, Action<string, int, int>? progress, IReadOnlySet<string>? withdrawn = null)
    {
        AtlasCheck check = new(atlas);
        List<Rot> rotten = [.. check.Run(progress)];
        rotten.AddRange(ListsThatWereChanged(atlas));
        Intake intake = new(atlas.Root, ComputeStage.NoLimits, mayWrite: false);
        IReadOnlyList<ContributionHeader> headers = [];
        try
        {
            headers = intake.AllHeaders();
            rotten.AddRange(LostFrom(atlas, intake, headers, withdrawn ?? new HashSet<string>()));
        }
        catch (Exception e) when (e is ContributionException or StorageException)
        {
            rotten.Add(new Rot("intake", e.Message));
        }

        foreach (ContributionHeader header in headers)
        {
            try
            {
                intake.Read(header);
            }
            catch (ContributionException e)
            {
                rotten.Add(new Rot(Path.Combine("intake", header.ContentHash), e.Message));
            }
        }

        (int setAside, IReadOnlyList<(string Path, string What)> changed) = intake.CheckSetAside();
        rotten.AddRange(changed.Select(c => new Rot(c.Path, $"{c.What}; restore it from a backup, or ask for the contribution again")));
        return new Verification(check.Files, headers.Count, setAside, rotten);
    }

    /// <summary>What the current release holds, or the intake's own register lists, and the intake has not.</summary>
    private static IEnumerable<Rot> LostFrom(AtlasFolder atlas, Intake intake, IReadOnlyList<ContributionHeader> headers,
        IReadOnlySet<string> withdrawn)
    {
        IReadOnlyList<LostContribution> released = ReleaseWitness.Of(atlas, withdrawn).MissingFrom(headers, isHigherEnough: false);
        return released.Concat(intake.Lost().Where(lost => !withdrawn.Contains(lost.ContributionId)))
            .DistinctBy(lost => lost.Place).OrderBy(lost => lost.Place, StringComparer.Ordinal)
            .Select(lost => new Rot(lost.Place,
                Invariant($"revision {lost.Revision} of the accepted contribution {lost.ContributionId} is missing; ")
                + "mount the intake or restore the folder from a backup, or put the contribution into the inbox again, "
                + "or withdraw it by a decision, which stays as long as intake/register.txt has its line"));
    }

    /// <summary>
    /// A list of checksums that was changed together with the files it lists fits them. What it was stands in the oldest run record
    /// that names the release.
    /// </summary>
    private static IEnumerable<Rot> ListsThatWereChanged(AtlasFolder atlas)
    {
        Dictionary<string, string> recorded = new(StringComparer.Ordinal);
        string[] records = Directory.Exists(atlas.Runs) ? [.. Directory.EnumerateFiles(atlas.Runs, "*.json").Order(StringComparer.Ordinal)]
            : [];
        foreach (string file in records)
        {
            try
            {
                using JsonDocument record = JsonDocument.Parse(File.ReadAllBytes(file));
                if (record.RootElement.TryGetProperty("release_id", out JsonElement release)
                    && record.RootElement.TryGetProperty("release_checksums_sha256", out JsonElement sha256))
                {
                    recorded.TryAdd(release.GetString()!, sha256.GetString()!);
                }
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException or InvalidOperationException)
            {
                // a record that can't be read testifies nothing
            }
        }

        foreach (ReleaseName release in atlas.ReleaseNames())
        {
            string sums = Path.Combine(atlas.FolderOf(release), ReleaseWriter.ChecksumsName);
            if (recorded.TryGetValue(release.ToString(), out string? was) && File.Exists(sums) && DurableFile.Sha256(sums) != was)
            {
                yield return
                    new Rot(Path.GetRelativePath(atlas.Root, sums),
                        "it is not the list that the run recorded which released it; restore the release from a backup");
            }
        }
    }
}
