package org.apiaryrounds.rounds;

import android.content.ContentProvider;
import android.content.ContentValues;
import android.content.Context;
import android.database.Cursor;
import android.net.Uri;
import android.os.ParcelFileDescriptor;
import java.io.File;
import java.io.FileNotFoundException;

/**
 * Lets the camera program that was asked for a photo write it into a file of this program, and
 * nobody else: the provider is not exported, and each address is granted by itself. So the photo
 * stands in no gallery, and no permission is needed.
 */
public final class PhotoProvider extends ContentProvider {
    private static final String AUTHORITY = "org.apiaryrounds.rounds.photos";
    private static final String FOLDER = "camera";

    /** The address under which the file called name is written. */
    static Uri uri(String name) {
        return Uri.parse("content://" + AUTHORITY + "/" + name);
    }

    /** The file called name; a name that could lead elsewhere is refused. */
    static File file(Context context, String name) throws FileNotFoundException {
        if (name == null || !name.matches("[0-9a-f-]+")) {
            throw new FileNotFoundException(name);
        }
        return new File(new File(context.getFilesDir(), FOLDER), name);
    }

    @Override
    public ParcelFileDescriptor openFile(Uri uri, String mode) throws FileNotFoundException {
        File file = file(getContext(), uri.getLastPathSegment());
        if (!file.exists()) {
            throw new FileNotFoundException(file.getName());
        }
        return ParcelFileDescriptor.open(file, ParcelFileDescriptor.parseMode(mode));
    }

    @Override
    public boolean onCreate() {
        return true;
    }

    @Override
    public String getType(Uri uri) {
        return "image/jpeg";
    }

    @Override
    public Cursor query(
            Uri uri, String[] columns, String where, String[] values, String order) {
        return null;
    }

    @Override
    public Uri insert(Uri uri, ContentValues values) {
        return null;
    }

    @Override
    public int update(Uri uri, ContentValues values, String where, String[] whereValues) {
        return 0;
    }

    @Override
    public int delete(Uri uri, String where, String[] whereValues) {
        return 0;
    }
}
