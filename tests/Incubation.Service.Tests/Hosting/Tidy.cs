namespace Incubation.Service.Tests.Hosting;

/// <summary>Takes data directories away. A service that is disposed of without being stopped may still be writing its last file.</summary>
internal static class Tidy
{
    public static Task AwayAsync(string directory) => Eventually.TrueAsync(
        () =>
        {
            try
            {
                Directory.Delete(directory, recursive: true);
                return true;
            }
            catch (DirectoryNotFoundException)
            {
                return true;
            }
            catch (IOException)
            {
                return false;
            }
        },
        "the data directory to be free");
}
