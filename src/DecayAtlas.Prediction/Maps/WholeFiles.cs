namespace DecayAtlas.Prediction;

/// <summary>Files that appear whole or not at all: written beside their place, and moved there when all are done.</summary>
internal static class WholeFiles
{
    /// <param name="paths">Every file.</param>
    /// <param name="write">Writes them; it is told under which name each is to be written.</param>
    /// <exception cref="PredictionException">A file cannot be written.</exception>
    public static T Write<T>(IEnumerable<string> paths, Func<Func<string, string>, T> write)
    {
        string[] all = [.. paths];
        static string Partial(string path) => path + ".partial";
        try
        {
            foreach (string path in all)
                Directory.CreateDirectory(Path.GetDirectoryName(Path.GetFullPath(path))!);
            T result = write(Partial);
            foreach (string path in all)
                File.Move(Partial(path), path, overwrite: true);
            return result;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new PredictionException($"{string.Join(" and ", all)} cannot be written ({e.Message.TrimEnd('.')}); check the folder, its rights and the free space.", e);
        }
        finally
        {
            foreach (string path in all.Where(p => File.Exists(Partial(p))))
                File.Delete(Partial(path));
        }
    }
}
