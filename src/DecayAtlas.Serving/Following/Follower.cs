using Microsoft.Extensions.Hosting;

namespace DecayAtlas.Serving.Following;

/// <summary>Looks at the atlas every few seconds, so that a nightly release and its model are taken up without a restart.</summary>
internal sealed class Follower(ServedAtlas atlas, ServedModel? model, FollowState state, ServingOptions options, IServingLog log)
    : BackgroundService
{
    /// <summary>After a failure this many looks are left out: what failed is big, and seldom mended within seconds.</summary>
    private const int LooksLeftOut = 5;

    private readonly Followed _release = new(), _model = new();

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
        if (model is not null)
            Look(_model, model.Follow, () => $"Model {model.Current!.Model.Card.ModelId} predicts now.", isFirst);
    }

    private bool Look(Followed followed, Func<bool> follow, Func<string> news, bool isFirst)
    {
        (bool isWell, bool isNew, bool isMended, string? trouble) = followed.Look(follow);
        if (isNew && !isFirst)
            log.TookUp(news());
        else if (isMended)
            log.TookUp("What was in trouble is well again.");
        if (trouble is not null)
            log.Trouble(isFirst ? trouble : $"What was served before still is: {trouble}");
        return isWell;
    }

    private bool FollowRelease()
    {
        bool isNew = atlas.Follow();
        if (atlas.Atlas.CurrentRelease() is null || !File.Exists(Path.Combine(atlas.Current.Folder, ReleaseWriter.ChecksumsName)))
        {
            throw new AtlasException($"{atlas.Atlas.Root} has no readable current release any more; publish again, or bring the disk "
                + "back.");
        }

        return isNew;
    }

    /// <summary>One thing that is followed, and whether it failed the last time: the same failure is told once.</summary>
    private sealed class Followed
    {
        private string? _trouble;
        private int _leaveOut;

        /// <returns>Whether all is well, whether there was something new, whether a failure is over, and what failed if that was not told
        /// before.</returns>
        public (bool IsWell, bool IsNew, bool IsMended, string? Trouble) Look(Func<bool> follow)
        {
            if (_trouble is not null && _leaveOut-- > 0)
                return (false, false, false, null);
            string? before = _trouble;
            try
            {
                _trouble = null;
                return (true, follow(), before is not null, null);
            }
            catch (Exception e)
            {
                (_trouble, _leaveOut) = (e.Message, LooksLeftOut);
                return (false, false, false, _trouble == before ? null : _trouble);
            }
        }
    }
}
