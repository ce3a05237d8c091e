using Microsoft.Extensions.Hosting;

namespace DecayAtlas.Serving.Following;

/// <summary>Looks at the atlas every few seconds, so that a nightly release and its model are taken up without a restart.</summary>
internal sealed class Follower(ServedAtlas atlas, ServedModel? model, FollowState state, ServingOptions options, IServingLog log)
    : BackgroundService
{
    /// <summary>After a failure this many looks are left out: what failed is big, and seldom mended within seconds.</summary>
    private const int LooksLeftOut = 5;

    private readonly Followed _release = new(), _model = new(), _ofStabilisation = new();

    /// <summary>The first look is taken before anything listens, so that the first reader finds the model.</summary>
    public override Task StartAsync(CancellationToken cancellationToken)
    {
        Look(isFirst: true);
        return base.StartAsync(cancellationToken);
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using PeriodicTimer timer = new(options.FollowEvery);
        try
        {
            while (await timer.WaitForNextTickAsync(stoppingToken))
                Look(isFirst: false);
        }
        catch (OperationCanceledException)
        {
            // the server stops
        }
    }

    private void Look(bool isFirst)
    {
        state.IsAtlasReadable = Look(_release, FollowRelease, () => $"Release {atlas.Current.Name} is served now.", isFirst);
        // what keeps k from predicting keeps S from it too, and is told once; what is wrong with S leaves k alone
        if (model is not null && Look(_model, model.Follow, () => $"Model {model.Current!.Model.Card.ModelId} predicts now.", isFirst))
        {
            Look(_ofStabilisation, model.FollowStabilisation,
                () => $"Model {model.OfStabilisation!.Model.Card.ModelId} predicts S now.", isFirst);
        }
    }

    /// <returns>Whether all is well. The same failure is told once.</returns>
    private bool Look(Followed followed, Func<bool> follow, Func<string> news, bool isFirst)
    {
        if (followed.Trouble is not null && followed.LeaveOut-- > 0)
            return false;
        string? before = followed.Trouble;
        bool isNew;
        try
        {
            isNew = follow();
            followed.Trouble = null;
        }
        catch (Exception e)
        {
            (followed.Trouble, followed.LeaveOut) = (e.Message, LooksLeftOut);
            if (e.Message != before)
                log.Trouble(isFirst ? e.Message : $"What was served before still is: {e.Message}");
            return false;
        }

        if (isNew && !isFirst)
            log.TookUp(news());
        else if (before is not null)
            log.TookUp("What was in trouble is well again.");
        return true;
    }

    private bool FollowRelease()
    {
        bool isNew = atlas.Follow();
        if (atlas.Atlas.CurrentRelease() is null || !File.Exists(Path.Combine(atlas.Current.Folder, ReleaseWriter.ChecksumsName)))
        {
            throw new AtlasException(
                $"{atlas.Atlas.Root} has no readable current release any more; publish again, or bring the disk back.");
        }

        return isNew;
    }

    /// <summary>What failed the last time, if it did, and how many looks are still left out.</summary>
    private sealed class Followed
    {
        public string? Trouble { get; set; }

        public int LeaveOut { get; set; }
    }
}
