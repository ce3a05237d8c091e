namespace DecayAtlas.Prediction.Maps;

/// <summary>Files that appear whole or not at all: written beside their place, and moved there when all are done.</summary>
internal static class WholeFiles
{
    /// <param name="write">Is told under which name each file is to be written.</param>
    /// <exception cref="PredictionException">A file cannot be written.</exception>
    public static T Write<T>(IEnumerable<string> paths, Func<Func<string, string>, T> write)
    {
        string[] all = [.. paths];
        try
        {
            foreach (string path in all)
                Directory.CreateDirectory(Path.GetDirectoryName(Path.GetFullPath(path))!);
            return DurableFile.Replace(all, write);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new PredictionException(
                $"{string.Join(" and ", all)} cannot be written ({e.Message.TrimEnd('.')}); check the folder, its rights and the free "
                + "space.", e);
        }
    }
}
