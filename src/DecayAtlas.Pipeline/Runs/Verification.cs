using DecayAtlas.Atlas;
using DecayAtlas.Atlas.Storage;
using DecayAtlas.Contributions;
using DecayAtlas.Pipeline.Stages;

namespace DecayAtlas.Pipeline.Runs;

/// <summary>Every checksum of an atlas recomputed, releases and intake.</summary>
/// <param name="Files">Files of releases and parts that were read.</param>
/// <param name="Contributions">Accepted contributions that were read.</param>
/// <param name="Rotten">What is not what it was.</param>
public sealed record Verification(int Files, int Contributions, IReadOnlyList<Rot> Rotten)
{
    public static Verification Of(AtlasFolder atlas, Action<string, int, int>? progress)
    {
        var check = new AtlasCheck(atlas);
        List<Rot> rotten = [.. check.Run(progress)];
        var intake = new Intake(atlas.Root, ComputeStage.NoLimits);
        IReadOnlyList<ContributionHeader> headers = [];
        try
        {
            headers = intake.AllHeaders();
        }
        catch (ContributionException e)
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

        return new Verification(check.Files, headers.Count, rotten);
    }
}
